using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Headings that announce a direct identifier. A file with one of them, and any value below it, is refused as a whole:
/// de-identification is the exporting department's step, not a clean-up of ours.
/// </summary>
public static partial class HeaderScreen
{
    // Common practice: the headings under which hospital exports carry names, numbers, addresses and staff identities.
    private static readonly string[] Phrases =
    [
        "nhs", "nhsnumber", "nhsno", "nhsid", "chi", "chino", "chinumber", "hcnumber", "hcno", "healthandcarenumber", "hospitalnumber",
        "hospitalno", "hospitalid", "hospno",
        "mrn", "medicalrecordnumber", "patientid", "patientnumber", "patientno", "unitnumber", "unitno", "casenotenumber",
        "casenotes", "name", "fullname",
        "patientname", "forename", "firstname", "givenname", "surname", "lastname", "familyname", "initials", "dob", "dateofbirth",
        "birthdate", "birthday", "address",
        "homeaddress", "postcode", "postalcode", "zip", "zipcode", "phone", "phonenumber", "telephone", "telephonenumber", "mobile",
        "mobilenumber", "email", "emailaddress",
        "staffname", "operatorname", "doctorname", "consultantname", "nextofkin", "nok", "gmc", "gmcnumber", "gmcno", "nmc", "nmcpin",
        "nmcnumber", "payrollnumber", "staffnumber",
        "staffid", "deviceserial", "serialnumber", "bednumber", "bed", "passport", "nationalinsurance", "nationalinsurancenumber",
        "socialsecuritynumber", "ssn",
    ];

    // These mean one thing wherever they stand: "Pt DOB", "Surname (maiden)", "Consultant GMC no".
    private static readonly string[] Words =
    [
        "mrn", "dob", "surname", "forename", "forenames", "postcode", "gmc", "nmc", "initials", "email", "telephone", "payroll", "passport",
    ];

    private static readonly string[] Runs =
    [
        "nhs number", "nhs no", "nhs num", "chi number", "chi no", "date of birth", "birth date", "post code", "e mail",
        "hospital number", "hospital no", "patient name", "patient s name", "first name", "last name", "family name", "given name",
        "home address", "d o b", "next of kin",
    ];

    /// <summary>True when the heading names a direct identifier.</summary>
    public static bool NamesAnIdentifier(string heading)
    {
        var words = string.Join(' ', WordStarts().Matches(heading).Select(match => match.Value.ToLowerInvariant()));
        var padded = $" {words} ";
        return Phrases.Contains(words.Replace(" ", "", StringComparison.Ordinal))
            || Words.Concat(Runs).Any(run => padded.Contains($" {run} ", StringComparison.Ordinal));
    }

    /// <summary>
    /// True when the heading itself is an identifier of a person: a ten-digit number that passes the NHS number check, an e-mail
    /// address, or a postcode. It is named by position only, and the file is refused.
    /// </summary>
    public static bool IsAnIdentifier(string heading) =>
        (Detect.In(heading, IdentifierSets.Numbers | Identifier.Email | Identifier.Postcode)
            & (IdentifierSets.Refusing | IdentifierSets.Passing)) != Identifier.None;

    [GeneratedRegex("[A-Z]+(?![a-z])|[A-Z]?[a-z]+|[0-9]+")]
    private static partial Regex WordStarts();
}
