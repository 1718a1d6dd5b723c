using System.Globalization;
using Bogus;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>
/// A labelled corpus: texts in which one identifier of a known kind is planted, in the ways people and spreadsheets write it. All of
/// it is invented and drawn from a seed. Names, addresses and numbers of telephones come in the forms that Bogus gives them in its
/// locales, which nobody chose with the detectors in mind; numbers of health services are worked out while it runs.
/// </summary>
internal static class Corpus
{
    public static readonly string[] Kinds =
    [
        "NHS number, 3-3-4", "NHS number, other forms", "NHS number, rounded by a spreadsheet", "CHI number", "Health and Care number",
        "hospital number", "date of birth, before 2000", "date of birth, from 2000, with words", "date of birth, from 2000, no words",
        "postcode", "telephone", "e-mail", "e-mail, \"at\" spelled out", "web or IP address", "title and name",
        "name without a title", "registration number",
    ];

    /// <summary>
    /// Of each date of birth, its forms: day first, month first, year first, names of months, two digits, times of day, none between.
    /// </summary>
    public static readonly string[] DateForms =
    [
        "dd/MM/yyyy", "dd/MM/yyyy", "d/M/yyyy", "d MMM yyyy", "yyyy-MM-dd", "dd.MM.yyyy", "dd-MM-yyyy", "d MMMM yyyy",
        "dd/MM/yy", "dd-MMM-yy", "dd-MMM-yyyy", "MMMM d, yyyy", "MM/dd/yyyy", "ddMMyyyy", "yyyyMMdd", "yyyy/MM/dd",
        "dd/MM/yyyy HH:mm", "yyyy-MM-dd HH:mm:ss", "yyyy-MM-ddTHH:mm:ss", "ddMMMyyyy", "dd MM yyyy", "d.M.yy", "dddd d MMMM yyyy",
        "d 'of' MMMM yyyy", "MMM-d-yyyy",
    ];

    private static readonly string[] Locales =
    [
        "en_GB", "en_GB", "en_GB", "en_IE", "en_US", "en_IND", "pl", "ro", "fr", "de", "it", "es", "nl", "pt_PT", "tr", "sv", "nb_NO", "cz"
    ];

    private static readonly string[] Frames =
    [
        "{0}", "{0}", "{0}", "pt {0}", "Transferred from elsewhere, {0}, difficult airway", "see notes ({0})", "{0} - family aware",
        "Discussed with team; {0}.", "ref {0}", "awaiting call back {0}, bougie used", "RSI by {0} at first", "\"{0}\"", "{0}/tube 8.0",
        "first {0} then moved", "Handover:{0}", "x2 {0}", "GRADE 2 VIEW, {0}", "{0}, 2 attempts",
    ];

    /// <summary>A faker for each of the locales, on one seed.</summary>
    public static Faker[] Fakers(int seed)
    {
        var random = new Randomizer(seed);
        return [.. Locales.Select(locale => new Faker(locale) { Random = random })];
    }

    /// <summary>A text with one identifier of a kind in it.</summary>
    public static string Planted(string kind, Faker[] fakers)
    {
        var faker = fakers[0];
        return string.Format(CultureInfo.InvariantCulture, faker.PickRandom(Frames), Of(kind, faker, faker.PickRandom(fakers)));
    }

    public static string Date(DateTime day, string form) => day.ToString(form, CultureInfo.InvariantCulture);

    /// <summary>A name without its title, in the ways lists write it.</summary>
    public static string Name(Faker at)
    {
        var (first, last) = (at.Name.FirstName(), at.Name.LastName());
        return at.Random.Int(0, 7) switch
        {
            <= 2 => $"{first} {last}",
            3 => $"{last.ToUpperInvariant()}, {first}",
            4 => $"{last}, {first}",
            5 => $"{first[0]}. {last}",
            6 => $"{first} {last.ToUpperInvariant()}",
            _ => last,
        };
    }

    private static string Of(string kind, Faker faker, Faker at)
    {
        var random = faker.Random;
        var good = TestNumbers.Passing(random.Int(0, 999_999));
        var born = faker.Date.Between(new DateTime(1926, 1, 1), new DateTime(1999, 12, 31));
        var late = faker.Date.Between(new DateTime(2000, 1, 1), new DateTime(2025, 12, 31));
        return kind switch
        {
            "NHS number, 3-3-4" => TestNumbers.Grouped(good, faker.PickRandom(" ", " ", "-", ".", "\u00A0", "\u2013")),
            "NHS number, other forms" => faker.PickRandom(good, good, $"NHS{good}", $"nhs no {good}", $"NHS No.:{good}", $"{good}.0",
                $"{good}.00", $"{good[0]}.{good[1..]}E+09", $"{good[..5]} {good[5..]}", $"{good[..3]} {good[3..]}", $"'{good}"),
            "NHS number, rounded by a spreadsheet" => $"{good[0]}.{good[1..random.Int(2, 6)]}E+{faker.PickRandom("0", "")}9",
            "CHI number" => faker.PickRandom("{0}", "CHI {0}", "chi:{0}")
                .Replace("{0}", TestNumbers.Completed(Date(born, "ddMMyy"), random.Int(0, 999)), StringComparison.Ordinal),
            "Health and Care number" => faker.PickRandom("{0}", "H&C no {0}", "HCN{0}", "HCN {0}").Replace("{0}", TestNumbers.Completed(
                random.Int(321, 399).ToString(CultureInfo.InvariantCulture), random.Int(0, 999_999)), StringComparison.Ordinal),
            "hospital number" => random.Replace(faker.PickRandom("?######", "?#######", "?########", "MRN ########",
                "MRN: #######", "hospital no. ??#####", "hosp num #######", "???######", "??#######", "?-######",
                "Unit no ######", "hosp. #######", "?## ## ##", "##-##-##")) is var number && random.Bool(0.2f)
                ? number.ToLowerInvariant()
                : number,
            "date of birth, before 2000" => Date(born, faker.PickRandom(DateForms)),
            "date of birth, from 2000, with words" => faker.PickRandom("DOB ", "dob: ", "D.O.B. ", "born ", "date of birth ", "DoB:",
                "born on ", "b. ") + Date(late, faker.PickRandom(DateForms)),
            "date of birth, from 2000, no words" => Date(late, faker.PickRandom(DateForms)),
            "postcode" => Postcode(faker),
            "telephone" => random.Bool() ? faker.Phone.PhoneNumber()
                : faker.PickRandom("07### ######", "07#########", "+44 7### ######", "+447#########", "020 #### ####", "01### ######",
                    "(01##) ### ####", "0044 20 #### ####", "07### ### ###", "ext #####", "447#########", "7#########", "07##-###-####",
                    "bleep ####", "tel 01### ######") is var form ? random.ReplaceNumbers(form)
                : "",
            "e-mail" => faker.PickRandom(at.Internet.Email(), faker.Internet.ExampleEmail(), faker.Internet.Email().ToUpperInvariant(),
                $"mailto:{faker.Internet.Email()}", $"<{faker.Internet.Email()}>"),
            "e-mail, \"at\" spelled out" => faker.PickRandom(" at ", " (at) ", "[at]", " AT ") is var sign
                ? $"{faker.Name.FirstName()}{sign}" + (random.Bool()
                    ? faker.Internet.DomainName()
                    : faker.Internet.DomainName().Replace(".", " dot ", StringComparison.Ordinal))
                : "",
            "web or IP address" => faker.PickRandom(faker.Internet.Url(), faker.Internet.Ip(), $"www.{faker.Internet.DomainName()}",
                faker.Internet.UrlWithPath(), faker.Internet.Ipv6(), faker.Internet.DomainName()),
            "title and name" => faker.PickRandom("Mr ", "Mrs ", "Ms ", "Miss ", "Dr ", "Dr. ", "Prof ", "Mr. ", "DR ", "dr ", "Sister ",
                "Dr", "MR ", "mr ") is var title && random.Bool()
                ? $"{title}{at.Name.LastName()}"
                : faker.PickRandom($"{title}{at.Name.FirstName()} {at.Name.LastName()}",
                    $"{title}{at.Name.FirstName()[0]} {at.Name.LastName()}", $"{title}{at.Name.LastName()}".ToLowerInvariant()),
            "name without a title" => Name(at),
            _ => random.Replace(faker.PickRandom("GMC #######", "GMC no: #######", "GMC number #######", "##?####?", "NMC ##?####?",
                "GMC ref #######", "#######", "gmc#######", "NMC PIN ##?####?", "HCPC PA#####", "GMC-#######")),
        };
    }

    // Forms of the published format; whether a place of that code exists does not matter.
    private static string Postcode(Faker faker)
    {
        var outward = faker.PickRandom("B#", "M##", "L#", "LS#", "SW1?", "EC1?", "W1?", "EH##", "CF##", "BT#", "NE##", "SO##", "TW#", "G##",
            "PL#", "ZE#", "JE#", "TN##", "HU#").Replace("?", faker.PickRandom("A", "H", "P", "W"), StringComparison.Ordinal);
        var code = $"{faker.Random.ReplaceNumbers(outward)}{faker.PickRandom(" ", " ", " ", "", "  ", "-")}{faker.Random.Int(0, 9)}"
            + $"{faker.Random.String2(2, "ABDEFGHJLNPQRSTUWXYZ")}";
        return faker.Random.Int(0, 9) switch { 0 or 1 => code.ToLowerInvariant(), _ => code };
    }
}
