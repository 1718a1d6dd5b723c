using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Reading;

/// <summary>
/// Headings that announce a direct identifier. A file with one of them, and any value below it, is refused as a whole:
/// de-identification is the exporting department's step, not a clean-up of ours.
/// </summary>
public static partial class HeaderScreen
{
    // Common practice: the headings under which hospital exports carry names, numbers, addresses and staff identities.
    private static readonly string[] Phrases =
    [
        "nhs", "nhsnumber", "nhsno", "chi", "chinumber", "hcnumber", "hospitalnumber", "hospitalno", "hospno", "mrn", "medicalrecordnumber",
        "patientid", "patientnumber", "patientno", "unitnumber", "casenotenumber", "name", "patientname", "forename", "firstname", "givenname",
        "surname", "lastname", "familyname", "initials", "dob", "dateofbirth", "birthdate", "birthday", "address", "homeaddress", "postcode",
        "postalcode", "zip", "zipcode", "phone", "telephone", "mobile", "email", "emailaddress", "staffname", "operatorname", "doctorname",
        "consultantname", "gmc", "gmcnumber", "nmc", "nmcpin", "payrollnumber", "staffnumber", "deviceserial", "serialnumber", "bednumber", "bed",
        "passport", "nationalinsurance", "socialsecuritynumber", "ssn",
    ];

    /// <summary>True when the heading names a direct identifier.</summary>
    public static bool NamesAnIdentifier(string heading) => Phrases.Contains(Squeezed(heading));

    /// <summary>
    /// True when the heading itself looks like an identifier of a person: ten digits that pass the NHS number check (modulus 11,
    /// weights 10 to 2; NHS Data Dictionary), with or without spaces or dashes, or an e-mail address. It is named by position only.
    /// </summary>
    public static bool IsAnIdentifier(string heading)
    {
        var digits = NonDigits().Replace(heading, "");
        return (digits.Length == 10 && TenDigitForm().IsMatch(heading.Trim()) && PassesModulus11(digits)) || heading.Contains('@', StringComparison.Ordinal);
    }

    /// <summary>The check digit of a ten-digit number by modulus 11 with weights 10 to 2; a remainder that would need 10 has none.</summary>
    public static bool PassesModulus11(ReadOnlySpan<char> digits)
    {
        if (digits.Length != 10) return false;
        var sum = 0;
        for (var i = 0; i < 9; i++)
            sum += (digits[i] - '0') * (10 - i);
        var check = 11 - (sum % 11);
        if (check == 11) check = 0;
        return check != 10 && check == digits[9] - '0';
    }

    private static string Squeezed(string heading) => new([.. heading.Where(char.IsAsciiLetterOrDigit).Select(char.ToLowerInvariant)]);

    [GeneratedRegex("[^0-9]")]
    private static partial Regex NonDigits();

    [GeneratedRegex(@"^\d{3}[ -]?\d{3}[ -]?\d{4}$")]
    private static partial Regex TenDigitForm();
}
