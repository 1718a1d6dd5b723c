using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Reporting.Cases;

/// <summary>What a case page says of a record, as headings and values that people read.</summary>
public static class CaseFacts
{
    private static readonly (string Title, ImmutableArray<string> Names)[] Groups =
    [
        ("Patient", CaseColumns.Patient), ("Difficulty", CaseColumns.Difficulty), ("Team and preparation", CaseColumns.Preparation),
        ("Oxygen, position, drugs", CaseColumns.Technique), ("Course", CaseColumns.Course), ("End", CaseColumns.End),
    ];

    private static readonly (string Name, string What)[] Times =
    [
        ("t_decision_s", "decision to intubate"), ("t_preox_start_s", "preoxygenation starts"), ("t_relaxant_s", "relaxant"),
        ("t_vasopressor_s", "vasopressor"), ("t_first_blade_s", "first blade in"), ("t_cico_declared_s",
            "can’t intubate, can’t oxygenate declared"), ("t_fona_s", "front-of-neck access"), ("t_tube_confirmed_s", "tube confirmed"),
    ];

    private static readonly (string Name, string Title)[] PlanFields =
    [
        ("plan_a", "A, laryngoscopy"), ("plan_b", "B, supraglottic"), ("plan_c", "C, facemask"), ("plan_d", "D, front of neck")
    ];

    /// <summary>The flags that fired, with the values that made them.</summary>
    public static ImmutableArray<FiredFlag> Flags(ReviewCase each, CasePack pack) =>
        [.. each.Flags.Select(flag => new FiredFlag(
            flag.Id, flag.Title, flag.Tier, flag.Why,
            [.. flag.Shows.Select(name => Fact(pack, name, each.Values.GetValueOrDefault(name)))]))];

    /// <summary>A column's heading and value, as people read them.</summary>
    public static CaseFact Fact(CasePack pack, string column, string? value)
    {
        var (titles, unit) = (pack.Titles, pack.Titles.Unit(column));
        return new(titles.Column(column), !CaseColumns.MayShow(pack.Dictionary, column) ? "not shown"
            : value is null ? "not recorded"
            : Measured(unit.Length == 0 || unit[0] == '{' ? titles.Level(column, value) : value, unit));
    }

    /// <summary>What is known, under headings; groups and facts without a value are left out.</summary>
    public static ImmutableArray<FactGroup> Known(ReviewCase each, CasePack pack)
    {
        return [.. Groups.Select(group => new FactGroup(group.Title, [.. group.Names.Select(Known).OfType<CaseFact>()]))
            .Where(group => !group.Facts.IsEmpty)];

        CaseFact? Known(string name)
        {
            if (name == CaseColumns.AgeBand)
                return each.Values.TryGetValue(name, out var band) ? new(pack.Titles.Column(name), pack.Titles.Level(name, band)) : null;
            if (pack.Dictionary.Find(FieldDictionary.Procedure, name) is { Type: FieldType.Set } set)
                return Answers(each, set) is { Length: > 0 } answers ? new(set.Title, string.Join(", ", answers)) : null;
            return each.Values.TryGetValue(name, out var value) ? Fact(pack, name, value) : null;
        }
    }

    private static string[] Answers(ReviewCase each, Field set) =>
        [.. Column.Of(set).Where(column => each.Values.GetValueOrDefault(column.Name) == "yes")
            .Select((column, at) => at == 0 ? set.TitleOf(column.Value!) : Readable.WithinSentence(set.TitleOf(column.Value!)))];

    public static ImmutableArray<CaseFact> Plans(ReviewCase each, CasePack pack) =>
        [.. PlanFields.Where(plan => each.Values.ContainsKey(plan.Name))
            .Select(plan => new CaseFact(plan.Title, Readable.WithinSentence(pack.Titles.Level(plan.Name, each.Values[plan.Name]))))];

    public static ImmutableArray<CaseAttempt> Attempts(ReviewCase each, CasePack pack) => [.. each.Attempts.Select(row => new CaseAttempt(
        row.GetValueOrDefault("attempt_no", ""), row.GetValueOrDefault("plan", ""), Joined(pack.Titles, row, "device",
            "technique", "introducer"), Cell(pack.Titles, row, "view_mcl"), Joined(pack.Titles, row, "operator_specialty", "operator_grade")
                + (row.GetValueOrDefault("supervised") == "yes" ? ", supervised" : ""), Cell(pack.Titles, row, "outcome"),
        Measured(row.GetValueOrDefault("spo2_min", ""), "%"), Measured(row.GetValueOrDefault("duration_s", ""), "s")))];

    /// <summary>Recorded times in order; empty where only durations or nothing is recorded.</summary>
    public static ImmutableArray<CaseMoment> Moments(ReviewCase each) =>
        [.. Times.Where(time => each.Values.ContainsKey(time.Name))
            .Select(time => new CaseMoment(Number(each.Values[time.Name]), time.What))
            .Concat(each.Attempts.Where(row => row.ContainsKey("t_blade_in_s"))
                .Select(row => new CaseMoment(Number(row["t_blade_in_s"]), $"attempt {row.GetValueOrDefault("attempt_no", "")}: blade in")))
            .OrderBy(moment => moment.Seconds).ThenBy(moment => moment.What, StringComparer.Ordinal)];

    private static string Cell(Titles titles, ImmutableDictionary<string, string> row, string name) =>
        row.TryGetValue(name, out var value) ? titles.OfAttempt(name, value) : "";

    // A device says the technique already.
    private static string Joined(
        Titles titles, ImmutableDictionary<string, string> row, string first, string second, string? third = null) =>
            string.Join(", ", new[] { third is null || !row.ContainsKey(first) ? second : "", third ?? "" }.Prepend(first)
                .Where(name => name.Length > 0 && row.ContainsKey(name) && row[name] != "none")
                .Select((name, at) => at == 0 ? Cell(titles, row, name) : Readable.WithinSentence(Cell(titles, row, name))));

    private static string Measured(string value, string unit) => value == JudgedRecord.Unrecordable
        ? "too low to measure"
        : value.Length == 0 || unit.Length == 0 || unit[0] == '{'
        ? value
        : Short(value) + Wording.Space + unit switch { "mm[Hg]" => "mmHg", "deg" => "degrees", _ => unit };

    // Forty seconds are two thirds of a minute: what was worked out from another unit has no end of digits.
    private static string Short(string value) =>
        value.Length > 6 && double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            ? number.ToString("0.##", CultureInfo.InvariantCulture)
            : value;

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
