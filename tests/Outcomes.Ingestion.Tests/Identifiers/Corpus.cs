using System.Globalization;
using System.Text;
using Bogus;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>
/// A labelled corpus: texts in which one identifier of a known kind is planted, in the ways people write it, and texts and files
/// without any. All of it is invented and drawn from a seed, by the author of the detectors and after them: it flatters them.
/// </summary>
internal static class Corpus
{
    public static readonly string[] Kinds =
    [
        "NHS number, 3-3-4", "NHS number, other forms", "NHS number, rounded by a spreadsheet", "CHI number", "Health and Care number", "hospital number", "date of birth", "date of birth, from 2000, no words",
        "postcode", "telephone", "e-mail", "e-mail, \"at\" spelled out", "web or IP address", "title and name", "name without a title", "registration number",
    ];

    private static readonly string[] Frames =
    [
        "{0}", "{0}", "{0}", "pt {0}", "Transferred from elsewhere, {0}, difficult airway", "see notes ({0})", "{0} - family aware", "Discussed with team; {0}.", "ref {0}", "awaiting call back {0}, bougie used",
    ];

    private static readonly string[] Sentences =
    [
        "Grade {0} view with videolaryngoscope, bougie passed at second look", "RSI with ketamine {1} mg and rocuronium {2} mg", "ETT {3} at {4} cm at the teeth", "Desaturated to {5} %, mask ventilation, recovered in {6} s",
        "Plan A failed, Plan B second generation supraglottic size {0}", "BP {1}/{5} before induction, metaraminol x{0}", "Waveform CO2 seen, {3} kPa", "MAC {0} blade, then hyperangulated", "Cuff pressure {4} cmH2O",
        "Night shift, two operators, senior on the way at {6}:15", "Suction failed, changed at {7}", "Trauma call, collar on, in-line stabilisation", "Transferred to CT after tube, then theatre {0}", "Noradrenaline {3} ml/h started, lactate {3}",
        "Size {3} tube too large; {3} used", "Intubated on {7}, extubated after {0} days", "Capnography line kinked, replaced", "SpO2 {5}-{4}% on NRB 15 l/min", "Reviewed at M&M {7}", "COPD, T2RF, pH 7.{6}", "Checklist done, roles given out, kit dump used",
        "ICU bed space ready, porter called", "Not recorded", "Vomited during laryngoscopy, aspiration suspected", "GCS E{0}V1M{0}, pupils equal", "Drug error: none. Debrief done.", "Consultant present from start", "Difficult Airway Trolley in Resus", "Airtraq tried first",
    ];

    /// <summary>A text with one identifier of a kind in it.</summary>
    public static string Planted(string kind, Faker faker) => string.Format(CultureInfo.InvariantCulture, faker.PickRandom(Frames), Of(kind, faker));

    private static string Of(string kind, Faker faker)
    {
        var good = TestNumbers.Passing(faker.Random.Int(0, 999_999));
        var born = faker.Date.Between(new DateTime(1926, 1, 1), new DateTime(1999, 12, 31));
        return kind switch
        {
            "NHS number, 3-3-4" => TestNumbers.Grouped(good, faker.PickRandom(" ", " ", "-", ".", "\u00A0")),
            "NHS number, other forms" => faker.PickRandom(good, good, $"NHS{good}", $"nhs no {good}", $"{good}.0", $"{good[0]}.{good[1..]}E+09", $"{good[..5]} {good[5..]}", $"{good[..3]} {good[3..]}"),
            "NHS number, rounded by a spreadsheet" => $"{good[0]}.{good[1..faker.Random.Int(2, 6)]}E+{faker.PickRandom("0", "")}9",
            "CHI number" => faker.PickRandom("{0}", "CHI {0}").Replace("{0}", TestNumbers.Completed(born.ToString("ddMMyy", CultureInfo.InvariantCulture), faker.Random.Int(0, 999)), StringComparison.Ordinal),
            "Health and Care number" => faker.PickRandom("{0}", "H&C no {0}").Replace("{0}", TestNumbers.Completed(faker.Random.Int(321, 399).ToString(CultureInfo.InvariantCulture), faker.Random.Int(0, 999_999)), StringComparison.Ordinal),
            "hospital number" => faker.PickRandom(faker.Random.Replace("?######"), faker.Random.Replace("?#######"), faker.Random.Replace("?########"), $"MRN {faker.Random.Replace("########")}", $"hospital no. {faker.Random.Replace("??#####")}", faker.Random.Replace("?#######").ToLowerInvariant(), $"hosp num {faker.Random.Replace("#######")}", faker.Random.Replace("???######")),
            "date of birth" => Date(born, faker),
            "date of birth, from 2000, no words" => Date(born.AddYears(74), faker),
            "postcode" => Postcode(faker),
            "telephone" => faker.PickRandom(faker.Random.Replace("07### ######"), faker.Random.Replace("07#########"), faker.Random.Replace("+44 7### ######"), faker.Random.Replace("+447#########"), faker.Random.Replace("020 #### ####"), faker.Random.Replace("01### ######"), faker.Random.Replace("(01##) ### ####"), faker.Random.Replace("0044 20 #### ####"), faker.Random.Replace("07### ### ###"), faker.Random.Replace("ext #####")),
            "e-mail" => faker.PickRandom(faker.Internet.Email(), faker.Internet.ExampleEmail(), faker.Internet.Email().ToUpperInvariant()),
            "e-mail, \"at\" spelled out" => $"{faker.Name.FirstName()} at {faker.Internet.DomainName()}",
            "web or IP address" => faker.PickRandom(faker.Internet.Url(), faker.Internet.Ip(), $"www.{faker.Internet.DomainName()}", faker.Internet.UrlWithPath(), faker.Internet.Ipv6()),
            "title and name" => faker.PickRandom("Mr ", "Mrs ", "Ms ", "Miss ", "Dr ", "Dr. ", "Prof ", "Mr. ", "DR ", "dr ", "Sister ") is var title && faker.Random.Bool() ? $"{title}{faker.Name.LastName()}" : $"{title}{faker.Name.FirstName()} {faker.Name.LastName()}",
            "name without a title" => faker.PickRandom($"{faker.Name.FirstName()} {faker.Name.LastName()}", $"{faker.Name.LastName().ToUpperInvariant()}, {faker.Name.FirstName()}", faker.Name.LastName()),
            _ => faker.PickRandom($"GMC {faker.Random.Replace("#######")}", $"GMC no: {faker.Random.Replace("#######")}", $"GMC number {faker.Random.Replace("#######")}", faker.Random.Replace("##?####?"), $"NMC {faker.Random.Replace("##?####?")}", $"GMC ref {faker.Random.Replace("#######")}", faker.Random.Replace("#######")),
        };
    }

    private static string Date(DateTime born, Faker faker) => faker.PickRandom("dd/MM/yyyy", "dd/MM/yyyy", "d MMM yyyy", "yyyy-MM-dd", "dd.MM.yyyy", "dd-MM-yyyy", "d MMMM yyyy", "dd/MM/yy", "dd-MMM-yy", "MMMM d, yyyy", "ddMMyyyy") is var form
        ? born.ToString(form, CultureInfo.InvariantCulture) : "";

    // Areas as the open data of the postcode directories name them; the rest is random within the published format.
    private static string Postcode(Faker faker)
    {
        var outward = faker.PickRandom("B#", "M##", "L#", "LS#", "SW1?", "EC1?", "W1?", "EH##", "CF##", "BT#", "NE##", "SO##", "TW#", "G##", "PL#").Replace("?", faker.PickRandom("A", "H", "P", "W"), StringComparison.Ordinal);
        var code = $"{faker.Random.ReplaceNumbers(outward)}{faker.PickRandom(" ", " ", " ", "", "  ")}{faker.Random.Int(0, 9)}{faker.Random.String2(2, "ABDEFGHJLNPQRSTUWXYZ")}";
        return faker.Random.Bool(0.2f) ? code.ToLowerInvariant() : code;
    }

    /// <summary>A cell of an export that identifies nobody: a sentence, a code, a number, a time.</summary>
    public static string Clean(Faker faker)
    {
        var when = faker.Date.Between(new DateTime(2019, 1, 1), new DateTime(2026, 3, 31));
        return faker.Random.Int(0, 11) switch
        {
            <= 4 => Sentence(faker, when),
            5 => when.ToString(faker.PickRandom("yyyy-MM-dd", "dd/MM/yyyy", "dd/MM/yyyy HH:mm", "yyyy-MM-ddTHH:mm:ss", "d MMM yyyy", "dd-MMM-yy"), CultureInfo.InvariantCulture),
            6 => faker.Random.Number(0, 10_000_000).ToString(CultureInfo.InvariantCulture),
            7 => (faker.Random.Double(0, 200)).ToString("0.##", CultureInfo.InvariantCulture),
            8 => faker.PickRandom("icu", "ED resus 2", "ward 7B", "Theatre 3", "N/A", "unknown", "bay 12", "CT 1", "PICU-2"),
            9 => faker.Random.Guid().ToString(),
            10 => faker.PickRandom(faker.Random.Replace("?##.#"), faker.Random.Replace("?##"), faker.Random.Replace("V#.##.#"), faker.Random.Replace("##########"), faker.Random.Replace("SN-####-####"), faker.Random.Replace("#########"), faker.Random.Replace("LOT ######")),
            _ => faker.Lorem.Sentence(faker.Random.Int(2, 9)),
        };
    }

    private static string Sentence(Faker faker, DateTime when) => string.Format(
        CultureInfo.InvariantCulture, faker.PickRandom(Sentences), faker.Random.Int(1, 4), faker.Random.Int(50, 200), faker.Random.Int(30, 120), faker.PickRandom("6.5", "7.0", "7.5", "8.0"), faker.Random.Int(20, 30),
        faker.Random.Int(60, 99), faker.Random.Int(10, 90), when.ToString(faker.PickRandom("dd/MM/yyyy", "d MMM yyyy", "dd/MM/yy", "HH:mm"), CultureInfo.InvariantCulture));

    /// <summary>A clean file: the mapped columns of <see cref="Maps.Small"/> and unread ones, of sentences, codes, times and numbers.</summary>
    public static string CleanFile(Faker faker)
    {
        var rows = faker.Random.Int(30, 120);
        var text = new StringBuilder("record_id,event_date,spo2_min,location_type,Comments,Entered at,Monitor code,Monitor,Other\n");
        var digits = faker.PickRandom(4, 6, 8, 10, 12);
        var codes = Enumerable.Range(0, 12).Select(_ => faker.Random.Replace(new string('#', digits))).ToArray();
        for (var i = 0; i < rows; i++)
        {
            var when = faker.Date.Between(new DateTime(2019, 1, 1), new DateTime(2026, 3, 31));
            text.AppendJoin(',', faker.Random.String2(10, "23456789abcdefghjkmnpqrstvwxyz"), when.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), faker.Random.Int(60, 100), faker.PickRandom("icu", "ed", "ward"),
                Quoted(faker.Random.Bool(0.4f) ? Sentence(faker, when) : ""), when.ToString("dd/MM/yyyy HH:mm", CultureInfo.InvariantCulture), faker.PickRandom(codes), faker.PickRandom("bedside", "transport"), Quoted(Clean(faker))).Append('\n');
        }

        return text.ToString();
    }

    private static string Quoted(string cell) => $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
