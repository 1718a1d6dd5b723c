using System.Globalization;
using Bogus;
using Bogus.Extensions.Finland;
using Bogus.Extensions.Italy;
using Bogus.Extensions.Norway;
using Bogus.Extensions.Sweden;
using Bogus.Extensions.UnitedKingdom;
using Bogus.Extensions.UnitedStates;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>
/// Columns that identify people, in nine locales of eight languages. Names, streets, telephones, months and the numbers of Great Britain,
/// the United States, Italy, Sweden, Norway and Finland are Bogus's own; the other numbers are worked out here from the public descriptions
/// that <see cref="NationalNumberTests"/> names. Nothing comes from the detectors' lists.
/// </summary>
internal static class Abroad
{
    public static readonly string[] Locales = ["en_GB", "de", "fr", "es", "it", "nl", "sv", "nb_NO", "fi"];

    /// <summary>A column: its kind, and how the cells of one file are drawn, one form a file.</summary>
    public static readonly (string Kind, Func<Faker, int, IEnumerable<string>> Draw)[] Planted =
    [
        ("names, forename and surname", (at, rows) => Repeat(rows, () => $"{at.Name.FirstName()} {at.Name.LastName()}")),
        ("names, surname first", (at, rows) => at.PickRandom("{0}, {1}", "{0} {1}", "{2}, {1}") is var form
            ? Repeat(rows, () => string.Format(CultureInfo.InvariantCulture, form, at.Name.LastName(), at.Name.FirstName(),
                at.Name.LastName().ToUpperInvariant()))
            : []),
        ("names, small letters", (at, rows) => Repeat(rows, () => $"{at.Name.FirstName()} {at.Name.LastName()}".ToLowerInvariant())),
        ("surnames alone", (at, rows) => Repeat(rows, () => at.Name.LastName())),
        ("surnames alone, small letters", (at, rows) => Repeat(rows, () => at.Name.LastName().ToLowerInvariant())),
        ("first names alone", (at, rows) => Repeat(rows, () => at.Name.FirstName())),
        ("staff surnames, recurring", (at, rows) => Repeat(Math.Max(8, rows / 12), () => at.Name.LastName()).ToArray() is var staff
            ? Repeat(rows, () => at.PickRandom(staff)) : []),
        ("initials", (at, rows) => at.PickRandom("{0}{1}", "{0}.{1}.", "{2}{1}") is var form ? Repeat(rows, () => string.Format(
            CultureInfo.InvariantCulture, form, at.Name.FirstName()[0], at.Name.LastName()[0], at.Name.FirstName()[..2])) : []),
        ("dates of birth", (at, rows) => at.PickRandom("dd.MM.yyyy", "dd/MM/yyyy", "dd-MM-yyyy", "yyyy-MM-dd", "ddMMyy", "d MMM yyyy")
            is var form ? Repeat(rows, () => Born(at, form)) : []),
        ("dates of birth, month named in the language",
            (at, rows) => Repeat(rows, () => Born(at, "d ") + at.Date.Month() + Born(at, " yyyy"))),
        ("dates of birth, serial numbers",
            (at, rows) => Repeat(rows, () => Birth(at).ToOADate().ToString("0", CultureInfo.InvariantCulture))),
        ("months of birth", (at, rows) => at.PickRandom("MM/yyyy", "yyyy-MM", "M.yyyy", "MMM yyyy") is var form
            ? Repeat(rows, () => Born(at, form)) : []),
        ("years of birth", (at, rows) => Repeat(rows, () => Born(at, "yyyy"))),
        ("addresses without postcode", (at, rows) => Repeat(rows, () => at.Address.StreetAddress())),
        ("telephones", (at, rows) => Repeat(rows, () => at.Phone.PhoneNumber())),
        ("e-mail addresses", (at, rows) => Repeat(rows, () => at.Internet.Email())),
        ("names of image files", (at, rows) => Repeat(rows, () => at.System.FileName(at.PickRandom("jpg", "png", "dcm", "tiff")))),
        ("number plates, Great Britain", (at, rows) => Repeat(rows,
            () => at.Vehicle.GbRegistrationPlate(new DateTime(2005, 1, 1), new DateTime(2024, 1, 1)))),
        ("number plates, Germany or France", (at, rows) => at.PickRandom("?-?? ###", "??-?? ####", "??-###-??") is var form
            ? Repeat(rows, () => at.Random.Replace(form)) : []),
        ("SSN", (at, rows) => Repeat(rows, () => new Person("en_US", at.Random.Int()).Ssn())),
        ("NINO", (at, rows) => at.Random.Bool() is var spaced ? Repeat(rows, () => at.Finance.Nino(spaced)) : []),
        ("codice fiscale", (at, rows) => Repeat(rows, () => new Person("it", at.Random.Int()).CodiceFiscale())),
        ("personnummer", (at, rows) => at.Random.Bool() is var bare
            ? Repeat(rows,
                () => new Person("sv", at.Random.Int()).Personnummer() is var n && bare ? n.Replace("-", "", StringComparison.Ordinal) : n)
            : []),
        ("fødselsnummer", (at, rows) => at.Random.Bool() is var bare
            ? Repeat(rows, () => new Person("nb_NO", at.Random.Int()).Fodselsnummer() is var n && !bare ? $"{n[..6]} {n[6..]}" : n) : []),
        ("henkilötunnus", (at, rows) => Repeat(rows, () => new Person("fi", at.Random.Int()).Henkilotunnus())),
        ("CPR number", (at, rows) => at.PickRandom("-", "") is var dash ? Repeat(rows, () => Cpr(at, dash)) : []),
        ("BSN", (at, rows) => Repeat(rows, () => Checked(at, "########", [9, 8, 7, 6, 5, 4, 3, 2], sum => sum % 11))),
        ("NIR", (at, rows) => at.Random.Bool() is var spaced ? Repeat(rows, () => Nir(at, spaced)) : []),
        ("KVNR", (at, rows) => Repeat(rows, () => Kvnr(at))),
        ("DNI", (at, rows) => at.PickRandom("", "-") is var dash ? Repeat(rows, () => Dni(at, dash)) : []),
        ("Medicare number, Australia", (at, rows) => at.Random.Bool() is var spaced
            ? Repeat(rows,
                () => Checked(at, at.PickRandom("2", "3", "4", "5", "6") + "#######", [1, 3, 7, 9, 1, 3, 7, 9], sum => sum % 10) is var n
                    && spaced ? $"{n[..4]} {n[4..]} 1" : $"{n}1") : []),
        ("Medicare identifier, United States", (at, rows) => at.Random.Bool() is var dashes
            ? Repeat(rows, () => Mbi(at) is var n && dashes ? $"{n[..4]}-{n[4..7]}-{n[7..]}" : n) : []),
    ];

    /// <summary>Which of them are one person's alone, all rows filled: none may pass without a word.</summary>
    public static bool IsDirect(string kind) => kind is not ("years of birth" or "initials");

    private static IEnumerable<string> Repeat(int rows, Func<string> draw) => Enumerable.Range(0, rows).Select(_ => draw());

    private static DateTime Birth(Faker at) => new DateTime(2022, 6, 30).AddDays(-at.Random.Int(18 * 365, 95 * 365));

    private static string Born(Faker at, string form) => Birth(at).ToString(form, CultureInfo.InvariantCulture);

    private static string Checked(Faker at, string form, int[] weights, Func<int, int> check)
    {
        while (true)
        {
            var stem = at.Random.Replace(form);
            if (check(weights.Select((weight, i) => weight * (stem[i] - '0')).Sum()) is var digit and < 10)
                return stem + digit.ToString(CultureInfo.InvariantCulture);
        }
    }

    private static string Cpr(Faker at, string dash)
    {
        var number = Checked(at, Born(at, "ddMMyy") + "###", [4, 3, 2, 7, 6, 5, 4, 3, 2], sum => (11 - (sum % 11)) % 11);
        return $"{number[..6]}{dash}{number[6..]}";
    }

    private static string Nir(Faker at, bool spaced)
    {
        var stem = at.PickRandom("1", "2") + Born(at, "yyMM") + at.Random.Int(1, 95).ToString("00", CultureInfo.InvariantCulture)
            + at.Random.Replace("######");
        var number = stem + (97 - (long.Parse(stem, CultureInfo.InvariantCulture) % 97)).ToString("00", CultureInfo.InvariantCulture);
        return !spaced ? number
            : $"{number[..1]} {number[1..3]} {number[3..5]} {number[5..7]} {number[7..10]} {number[10..13]} {number[13..]}";
    }

    private static string Kvnr(Faker at)
    {
        var (letter, digits) = (at.Random.Char('A', 'Z'), at.Random.Replace("########"));
        var all = (letter - 'A' + 1).ToString("00", CultureInfo.InvariantCulture) + digits;
        var sum = all.Select((c, i) => (c - '0') * (1 + (i % 2))).Sum(product => (product / 10) + (product % 10));
        return string.Create(CultureInfo.InvariantCulture, $"{letter}{digits}{sum % 10}");
    }

    private static string Dni(Faker at, string dash)
    {
        var number = at.Random.Int(1_000_000, 99_999_999);
        return string.Create(CultureInfo.InvariantCulture, $"{number:00000000}{dash}{"TRWAGMYFPDXBNJZSQVHLCKE"[number % 23]}");
    }

    private static string Mbi(Faker at)
    {
        const string letters = "ACDEFGHJKMNPQRTUVWXY";
        char Letter() => at.PickRandom(letters.ToCharArray());
        char Either() => at.PickRandom((letters + "0123456789").ToCharArray());
        char Digit() => at.Random.Char('0', '9');
        return new string([at.Random.Char('1', '9'), Letter(), Either(), Digit(), Letter(), Either(), Digit(), Letter(),
            Letter(), Digit(), Digit()]);
    }
}
