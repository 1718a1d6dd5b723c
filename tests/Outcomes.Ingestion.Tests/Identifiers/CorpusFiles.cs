using System.Globalization;
using System.Text;
using Bogus;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>
/// Whole files of the corpus: clean ones, and ones with a column that identifies people under a heading that says nothing.
/// </summary>
internal static class CorpusFiles
{
    /// <summary>Columns that identify people, and how the cells of one file are drawn: of the number of rows, one form a file.</summary>
    public static readonly (string Kind, Func<Faker, Faker, int, IEnumerable<string>> Draw)[] Planted =
    [
        ("names, forename and surname", (_, at, rows) => Repeat(rows, () => $"{at.Name.FirstName()} {at.Name.LastName()}")),
        ("names, surname first",
            (faker, at, rows) => faker.PickRandom("{0}, {1}", "{2}, {1}", "{2} {1}", "{0}, {3}.", "{2} {3}") is var form
                ? Repeat(rows, () => string.Format(CultureInfo.InvariantCulture, form, at.Name.LastName(), at.Name.FirstName(),
                    at.Name.LastName().ToUpperInvariant(), at.Name.FirstName()[0]))
                : []),
        ("names of many nations mixed with blanks", (faker, _, rows) => Corpus.Fakers(faker.Random.Int()) is var all ? Repeat(rows,
            () => faker.Random.Bool(0.3f) ? "" : $"{faker.PickRandom(all).Name.FirstName()} {faker.PickRandom(all).Name.LastName()}") : []),
        ("names in scripts without capitals",
            (faker, _, rows) => new Faker(faker.PickRandom("ja", "zh_CN", "ar", "ru", "el")) { Random = faker.Random } is var other
                ? Repeat(rows, () => $"{other.Name.LastName()}{(other.Locale is "ja" or "zh_CN" ? "" : " ")}{other.Name.FirstName()}")
                : []),
        ("names, small letters", (_, at, rows) => Repeat(rows, () => $"{at.Name.FirstName()} {at.Name.LastName()}".ToLowerInvariant())),
        ("surnames alone", (_, at, rows) => Repeat(rows, () => at.Name.LastName())),
        ("staff names, recurring",
            (faker, at, rows) => Repeat(Math.Max(8, rows / 12), () => $"{at.Name.FirstName()} {at.Name.LastName()}").ToArray() is var staff
                ? Repeat(rows, () => faker.PickRandom(staff))
                : []),
        ("initials", (_, at, rows) => Repeat(rows, () => $"{at.Name.FirstName()[0]}{at.Name.LastName()[0]}")),
        ("dates of birth, adults", (faker, _, rows) => Births(faker, rows, 18, 95)),
        ("dates of birth, all ages", (faker, _, rows) => Births(faker, rows, 0, 95)),
        ("dates of birth, children to 16", (faker, _, rows) => Births(faker, rows, 0, 16)),
        ("dates of birth, infants", (faker, _, rows) => Births(faker, rows, 0, 1)),
        ("NHS numbers, bare", (faker, _, rows) => faker.PickRandom("", ".0", " ") is var end
            ? Repeat(rows, () => faker.Random.Bool(0.2f) ? "" : TestNumbers.Passing(faker.Random.Int(0, 999_999)) + end)
            : []),
        ("NHS numbers, one in two, among codes", (faker, _, rows) => Repeat(rows,
            () => faker.Random.Bool() ? TestNumbers.Passing(faker.Random.Int(0, 999_999)) : faker.Random.Replace("##########"))),
        ("NHS numbers, five in all", (faker, _, rows) => Enumerable.Range(0, rows).Select(
            i => i % Math.Max(1, rows / 5) == 0 && i / Math.Max(1, rows / 5) < 5 ? TestNumbers.Passing(faker.Random.Int(0, 999_999)) : "")),
        ("hospital numbers, digits alone", (faker, _, rows) => Repeat(rows, () => faker.Random.Replace("#######"))),
        ("addresses without postcode", (_, at, rows) => Repeat(rows, () => at.Address.StreetAddress())),
    ];

    // Draws of one clean column: what a hospital's export holds beside what is asked for.
    private static readonly (string Heading, Func<Faker, int, IEnumerable<string>> Draw)[] Clean =
    [
        ("Comments", (faker, rows) => Repeat(rows, () => faker.Random.Bool(0.4f) ? CleanCells.Sentence(faker) : "")),
        ("Outcome comment", (faker, rows) => Repeat(rows, () => CleanCells.Sentence(faker))),
        ("Entered at",
            (faker, rows) => Repeat(rows, () => CleanCells.When(faker).ToString("dd/MM/yyyy HH:mm", CultureInfo.InvariantCulture))),
        ("Admitted", (faker, rows) => Dates(faker, rows, 0, 30)),
        ("Last anaesthetic", (faker, rows) => Dates(faker, rows, 30, 3000, 0.3f)),
        ("Device serviced", (faker, rows) => Dates(faker, rows, 10, 500)),
        ("Kit expires", (faker, rows) => Dates(faker, rows, -900, -30)),
        ("Monitor code", (faker, rows) => Codes(faker, rows, faker.PickRandom(4, 6, 8, 9, 10, 10, 10, 12), faker.PickRandom(3, 6, 12, 30))),
        ("Device code", (faker, rows) => Codes(faker, rows, 10, 1000)),
        ("Study key", (faker, rows) => Repeat(rows, () => faker.Random.Guid().ToString())),
        ("Row number", (_, rows) => Enumerable.Range(1, rows).Select(i => i.ToString(CultureInfo.InvariantCulture))),
        ("Episode minutes", (faker, rows) => Repeat(rows, () => faker.Random.Number(1, 100_000).ToString(CultureInfo.InvariantCulture))),
        ("Ward", (faker, rows) => Repeat(rows, () => faker.PickRandom("Larch Ward", "Hazel Unit", "Ward 7B", "Northfield", "Intensive Care",
            "Resus Bay 2", "Theatre 3", "Acute Medical Unit"))),
        ("Referring hospital", (faker, rows) => Repeat(rows,
            () => faker.PickRandom("Fenwick General", "Saint Elsewhere Hospital", "Larchfield Infirmary", "Royal Hazelmere", "Own Hospital",
                "Not Transferred", "Eastmoor District", "Westbrook", "Dunmoor Community Hospital", "Ashcombe Park"))),
        ("Device", (faker, rows) => Repeat(rows,
            () => faker.PickRandom("Glidescope Titanium", "Storz C-MAC", "Macintosh 4", "Miller Blade", "Larch Scope", "Hazel View",
                "Ambu aScope", "Pentax AWS", "Portex Tube", "Frova Introducer", "Rowan Optic", "Elder Light", "Aspen Blade"))),
        ("Diagnosis", (faker, rows) => Repeat(rows, () => faker.PickRandom("Septic Shock", "Head Injury", "Community Acquired Pneumonia",
            "Status Epilepticus", "Diabetic Ketoacidosis", "Subarachnoid Haemorrhage", "Asthma", "Stroke", "Polytrauma",
            "Acute Pancreatitis", "Guillain Barre Syndrome", "Out Of Hospital Arrest", "Ludwig Angina", "Epiglottitis", "Angioedema",
            "Tricyclic Overdose", "Burns", "Cardiogenic Shock", "Ruptured Aneurysm", "Myasthenic Crisis", "Hyponatraemia", "Botulism",
            "Listeria Meningitis", "Biliary Sepsis"))),
        ("Drug given", (faker, rows) => Repeat(rows,
            () => faker.PickRandom("Ketamine", "Propofol", "Rocuronium", "Suxamethonium", "Midazolam", "Fentanyl", "Thiopentone",
                "Etomidate", "Alfentanil", "Ketamine, Fentanyl", "Propofol; Rocuronium", "Remifentanil", "Atracurium"))),
        ("Ethnic group", (faker, rows) => Repeat(rows, () => faker.PickRandom("White British", "White Irish", "Black African",
            "Black Caribbean", "Asian Indian", "Asian Pakistani", "Any Other Background", "Not Stated", "Mixed White And Asian", "Arab"))),
        ("Hours", (faker, rows) => Repeat(rows, () => faker.PickRandom("00:00-07:59", "08:00-17:59", "18:00-23:59"))),
        ("Operator code", (faker, rows) => Codes(faker, rows, 4, 20)),
        ("Dose", (faker, rows) => Repeat(rows, () => $"{faker.Random.Int(10, 200)} mg")),
        ("Procedure code", (faker, rows) => Repeat(rows,
            () => faker.PickRandom("112798008", "232678001", "397892004", "418613003", "1119304008", "232674004", "X56.2", "E85.1"))),
        ("Kit list", (faker, rows) => Repeat(rows,
            () => faker.PickRandom("Bougie, Stylet", "Bougie", "Stylet, Magill Forceps", "Suction, Bougie", "None"))),
        ("Other", (faker, rows) => Repeat(rows, () => faker.PickRandom(CleanCells.Kinds).Draw(faker))),
    ];

    private static readonly string[] NeutralHeadings = ["Field 7", "Details", "Col AF", "Text 2", "Extra", "Value", "Info"];

    /// <summary>A clean file: the mapped columns of <see cref="Maps.Small"/> and some that are not read.</summary>
    public static string CleanFile(Faker faker)
    {
        var rows = faker.Random.Int(12, 200);
        return Written(faker, rows, [.. faker.Random.Shuffle(Clean).Take(faker.Random.Int(3, 8))
            .Select(column => (column.Heading, column.Draw(faker, rows).ToArray()))]);
    }

    /// <summary>A file with one column that identifies people, among clean ones; and that column's heading.</summary>
    public static (string Text, string Heading) PlantedFile(int kind, Faker[] fakers)
    {
        var faker = fakers[0];
        var rows = faker.Random.Int(15, 200);
        var heading = faker.PickRandom(NeutralHeadings);
        return (Written(faker, rows, [("Ward", Clean.First(column => column.Heading == "Ward").Draw(faker, rows).ToArray()),
            (heading, Planted[kind].Draw(faker, faker.PickRandom(fakers), rows).ToArray())]), heading);
    }

    private static string Written(Faker faker, int rows, (string Heading, string[] Cells)[] columns)
    {
        var text = new StringBuilder("record_id,event_date,spo2_min,location_type,")
            .AppendJoin(',', columns.Select(column => column.Heading)).Append('\n');
        for (var i = 0; i < rows; i++)
            text.AppendJoin(',',
                [faker.Random.String2(10, "23456789abcdefghjkmnpqrstvwxyz"), new DateTime(2022, 1, 1).AddDays(faker.Random.Int(0, 364))
                    .ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), faker.Random.Int(60, 100).ToString(CultureInfo.InvariantCulture),
                    faker.PickRandom("icu", "ed", "ward"), .. columns.Select(column => Quoted(column.Cells[i]))]).Append('\n');
        return text.ToString();
    }

    private static IEnumerable<string> Births(Faker faker, int rows, int youngest, int oldest)
    {
        var form = faker.PickRandom(Corpus.DateForms);
        return Repeat(rows, () => Corpus.Date(new DateTime(2022, 6, 30).AddDays(-faker.Random.Int(youngest * 365, oldest * 365)), form));
    }

    private static IEnumerable<string> Dates(Faker faker, int rows, int from, int to, float filled = 0.95f)
    {
        var form = faker.PickRandom("dd/MM/yyyy", "yyyy-MM-dd", "dd-MMM-yy", "d MMM yyyy", "yyyy-MM-ddTHH:mm:ss");
        return Repeat(rows,
            () => faker.Random.Bool(filled) ? Corpus.Date(new DateTime(2022, 6, 30).AddDays(-faker.Random.Int(from, to)), form) : "");
    }

    private static IEnumerable<string> Codes(Faker faker, int rows, int digits, int different)
    {
        var codes = Repeat(different, () => faker.Random.Replace(new string('#', digits))).ToArray();
        return Repeat(rows, () => faker.PickRandom(codes));
    }

    private static IEnumerable<string> Repeat(int rows, Func<string> draw) => Enumerable.Range(0, rows).Select(_ => draw());

    private static string Quoted(string cell) => $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
