using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Analysis;
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
            "cannot intubate, cannot oxygenate declared"), ("t_fona_s", "front-of-neck access"), ("t_tube_confirmed_s", "tube confirmed"),
    ];

    private static readonly (string Name, string Title)[] PlanFields =
    [
        ("plan_a", "A, laryngoscopy"), ("plan_b", "B, supraglottic"), ("plan_c", "C, facemask"), ("plan_d", "D, front of neck")
    ];

    private static readonly Dictionary<string, (string Title, string Unit)> Derived = new(StringComparer.Ordinal)
    {
        ["lowest_spo2"] = ("Lowest SpO2", "%"),
        ["lowest_sbp"] = ("Lowest systolic pressure", "mm[Hg]"),
        ["spo2_seconds_below_90"] = ("Time below 90 %", "s"),
        ["macocha_from_items"] = ("MACOCHA from its items", ""),
        ["macocha_high"] = ("MACOCHA 3 or more", ""),
        ["plan_b_used"] = ("Plan B used", ""),
        ["plan_c_used"] = ("Plan C used", ""),
        ["plan_d_used"] = ("Plan D used", ""),
    };

    /// <summary>The flags that fired, with the values that made them.</summary>
    public static ImmutableArray<FiredFlag> Flags(ReviewCase each, FieldDictionary dictionary) =>
        [.. each.Flags.Select(flag => new FiredFlag(
            flag.Id, flag.Title, flag.Tier, flag.Why,
            [.. flag.Shows.Select(name => Fact(dictionary, name, each.Values.GetValueOrDefault(name)))]))];

    /// <summary>A column's heading and value, as people read them.</summary>
    public static CaseFact Fact(FieldDictionary dictionary, string column, string? value)
    {
        var found = CaseColumns.Find(dictionary, column);
        var (title, unit) = found is { } stored
            ? (stored.Value is null ? stored.Field.Title : $"{stored.Field.Title}: {Wording.Plain(stored.Value)}", stored.Field.Unit ?? "")
            : Derived.TryGetValue(column, out var known) ? known : (Title(column), "");
        return new(title, !CaseColumns.MayShow(dictionary, column) ? "not shown" : value is null ? "not recorded" : Measured(value, unit));
    }

    /// <summary>What is known, under headings; groups and facts without a value are left out.</summary>
    public static ImmutableArray<FactGroup> Known(ReviewCase each, FieldDictionary dictionary)
    {
        return [.. Groups.Select(group => new FactGroup(group.Title, [.. group.Names.Select(Known).OfType<CaseFact>()]))
            .Where(group => !group.Facts.IsEmpty)];

        CaseFact? Known(string name)
        {
            if (name == CaseColumns.AgeBand)
                return each.Values.TryGetValue(name, out var band) ? new("Age band", band) : null;
            if (dictionary.Find(FieldDictionary.Procedure, name) is { Type: FieldType.Set } set)
                return Column.Of(set).Where(column => each.Values.GetValueOrDefault(column.Name) == "yes")
                    .Select(column => Wording.Plain(column.Value!)).ToArray() is { Length: > 0 } values
                    ? new(set.Title, string.Join(", ", values)) : null;
            return each.Values.TryGetValue(name, out var value) ? Fact(dictionary, name, value) : null;
        }
    }

    public static ImmutableArray<CaseFact> Plans(ReviewCase each) =>
        [.. PlanFields.Where(plan => each.Values.ContainsKey(plan.Name))
            .Select(plan => new CaseFact(plan.Title, Wording.Plain(each.Values[plan.Name])))];

    public static ImmutableArray<CaseAttempt> Attempts(ReviewCase each) => [.. each.Attempts.Select(row => new CaseAttempt(
        Cell(row, "attempt_no"), Cell(row, "plan"), Joined(row, "device", "technique", "introducer"),
        Joined(row, "operator_specialty", "operator_grade") + (Cell(row, "supervised") == "yes" ? ", supervised" : ""),
        Cell(row, "outcome"), Measured(Cell(row, "spo2_min"), "%"), Measured(Cell(row, "duration_s"), "s")))];

    /// <summary>Recorded times in order; empty where only durations or nothing is recorded.</summary>
    public static ImmutableArray<CaseMoment> Moments(ReviewCase each) =>
        [.. Times.Where(time => each.Values.ContainsKey(time.Name))
            .Select(time => new CaseMoment(Number(each.Values[time.Name]), time.What))
            .Concat(each.Attempts.Where(row => row.ContainsKey("t_blade_in_s"))
                .Select(row => new CaseMoment(Number(row["t_blade_in_s"]), $"attempt {Cell(row, "attempt_no")}: blade in")))
            .OrderBy(moment => moment.Seconds).ThenBy(moment => moment.What, StringComparer.Ordinal)];

    private static string Cell(ImmutableDictionary<string, string> row, string name) => Wording.Plain(row.GetValueOrDefault(name, ""));

    // A device says the technique already.
    private static string Joined(ImmutableDictionary<string, string> row, string first, string second, string? third = null) =>
        string.Join(", ", new[] { third is null || !row.ContainsKey(first) ? second : "", third ?? "" }.Prepend(first)
            .Where(name => name.Length > 0 && row.ContainsKey(name) && row[name] != "none").Select(name => Cell(row, name)));

    private static string Measured(string value, string unit) => value.Length == 0 || unit.Length == 0 || unit[0] == '{'
        ? Wording.Plain(value)
        : Short(value) + Wording.Space + unit switch { "mm[Hg]" => "mmHg", "deg" => "degrees", _ => unit };

    // Forty seconds are two thirds of a minute: what was worked out from another unit has no end of digits.
    private static string Short(string value) =>
        value.Length > 6 && double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            ? number.ToString("0.##", CultureInfo.InvariantCulture)
            : value;

    private static string Title(string column) =>
        Wording.Plain(column) is { Length: > 0 } words ? char.ToUpperInvariant(words[0]) + words[1..] : column;

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
