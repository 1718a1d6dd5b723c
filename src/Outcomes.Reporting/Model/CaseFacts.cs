using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Reporting.Model;

/// <summary>
/// What of a record a case may say. Only fields named here are ever read for a page: no date, no clock time, no exact age, no free text, no
/// site, no staff identity. A flag's values pass the same gate (<see cref="MayShow"/>).
/// </summary>
public static class CaseFacts
{
    private static readonly (string Title, string[] Names)[] Groups =
    [
        ("Patient", ["age_band", "urgency", "location_type", "primary_indication", "indication", "cardiac_arrest_before", "infection_status"]),
        ("Difficulty", ["macocha", "macocha_from_items", "anatomical_difficulty", "physiological_difficulty", "hypoxaemic_before"]),
        ("Team and preparation", ["recorder_role", "senior_present", "help_called", "team_brief", "roles_allocated", "checklist", "plans_verbalised", "cricothyroid_membrane", "fona_kit_ready"]),
        ("Oxygen, position, drugs", ["preox_method", "preox_min", "eto2_pre_pct", "apnoeic_oxygenation", "position", "head_up_deg", "induction_agent", "nmba", "rsi_type", "vasopressor_pre", "vasopressor_new"]),
        ("Course", ["attempts", "spo2_pre", "lowest_spo2", "spo2_seconds_below_90", "sbp_pre", "lowest_sbp", "oesophageal", "recognition_s", "complication", "cardiac_arrest_peri", "arrest_offset_min", "rosc"]),
        ("End", ["final_plan", "final_airway", "co2_confirmation", "sustained_co2", "harm_level", "death_24h", "debrief_done", "airway_alert_issued"]),
    ];

    private static readonly (string Name, string What)[] Times =
    [
        ("t_decision_s", "decision to intubate"), ("t_preox_start_s", "preoxygenation starts"), ("t_relaxant_s", "relaxant"), ("t_vasopressor_s", "vasopressor"),
        ("t_first_blade_s", "first blade in"), ("t_cico_declared_s", "cannot intubate, cannot oxygenate declared"), ("t_fona_s", "front-of-neck access"),
        ("t_tube_confirmed_s", "tube confirmed"),
    ];

    private static readonly (string Name, string Title)[] PlanFields = [("plan_a", "A, laryngoscopy"), ("plan_b", "B, supraglottic"), ("plan_c", "C, facemask"), ("plan_d", "D, front of neck")];

    private static readonly (int From, string Band)[] Bands = [(90, "90+"), (75, "75-89"), (60, "60-74"), (45, "45-59"), (30, "30-44"), (16, "16-29"), (0, "0-15")];

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

    /// <summary>Fields of attempts that a page tells.</summary>
    public static readonly ImmutableArray<string> AttemptFields =
        ["plan", "technique", "device", "introducer", "operator_specialty", "operator_grade", "supervised", "outcome", "spo2_min", "t_blade_in_s", "duration_s"];

    /// <summary>The columns to ask the engine for.</summary>
    public static ImmutableArray<string> Columns(FieldDictionary dictionary) =>
        [.. Groups.SelectMany(group => group.Names).Concat(PlanFields.Select(plan => plan.Name)).Concat(Times.Select(time => time.Name)).Append("age_years")
            .SelectMany(name => dictionary.Find(FieldDictionary.Procedure, name) is { } field ? Column.Of(field).Select(column => column.Name) : [name]).Distinct()];

    /// <summary>True where a page may print the values of a column: codes, answers and measurements only.</summary>
    public static bool MayShow(FieldDictionary dictionary, string column) =>
        column is not ("age_years" or "as_of" or "site_code" or "unit_code")
        && Find(dictionary, column) is not { Field: { Type: FieldType.Text or FieldType.Date or FieldType.Time } or { Identifying: Identifying.DirectRisk } };

    /// <summary>A column's heading and value, as people read them.</summary>
    public static CaseFact Fact(FieldDictionary dictionary, string column, string? value)
    {
        var found = Find(dictionary, column);
        var (title, unit) = found is { } stored ? (stored.Value is null ? stored.Field.Title : $"{stored.Field.Title}: {Wording.Plain(stored.Value)}", stored.Field.Unit ?? "")
            : Derived.TryGetValue(column, out var known) ? known : (Title(column), "");
        return new(title, !MayShow(dictionary, column) ? "not shown" : value is null ? "not recorded" : Measured(value, unit));
    }

    /// <summary>What is known, under headings; groups and facts without a value are left out.</summary>
    public static ImmutableArray<FactGroup> Of(JudgedRecord record, FieldDictionary dictionary)
    {
        return [.. Groups.Select(group => new FactGroup(group.Title, [.. group.Names.Select(Known).OfType<CaseFact>()])).Where(group => !group.Facts.IsEmpty)];

        CaseFact? Known(string name)
        {
            if (name == "age_band")
                return AgeBand(record) is { } band ? new("Age band", band) : null;
            if (dictionary.Find(FieldDictionary.Procedure, name) is { Type: FieldType.Set } set)
                return Column.Of(set).Where(column => record.Values.GetValueOrDefault(column.Name) == "yes").Select(column => Wording.Plain(column.Value!)).ToArray() is { Length: > 0 } values
                    ? new(set.Title, string.Join(", ", values)) : null;
            return record.Values.TryGetValue(name, out var value) ? Fact(dictionary, name, value) : null;
        }
    }

    public static ImmutableArray<CaseFact> Plans(JudgedRecord record) =>
        [.. PlanFields.Where(plan => record.Values.ContainsKey(plan.Name)).Select(plan => new CaseFact(plan.Title, Wording.Plain(record.Values[plan.Name])))];

    public static ImmutableArray<CaseAttempt> Attempts(IEnumerable<ImmutableDictionary<string, string>> rows) => [.. rows.Select(row => new CaseAttempt(
        Cell(row, "attempt_no"), Cell(row, "plan"), Joined(row, "device", "technique", "introducer"),
        Joined(row, "operator_specialty", "operator_grade") + (Cell(row, "supervised") == "yes" ? ", supervised" : ""),
        Cell(row, "outcome"), Measured(Cell(row, "spo2_min"), "%"), Measured(Cell(row, "duration_s"), "s")))];

    /// <summary>Recorded times in order; empty where only durations or nothing is recorded.</summary>
    public static ImmutableArray<CaseMoment> Moments(JudgedRecord record, IEnumerable<ImmutableDictionary<string, string>> attempts) =>
        [.. Times.Where(time => record.Values.ContainsKey(time.Name)).Select(time => new CaseMoment(Number(record.Values[time.Name]), time.What))
            .Concat(attempts.Where(row => row.ContainsKey("t_blade_in_s")).Select(row => new CaseMoment(Number(row["t_blade_in_s"]), $"attempt {Cell(row, "attempt_no")}: blade in")))
            .OrderBy(moment => moment.Seconds).ThenBy(moment => moment.What, StringComparer.Ordinal)];

    /// <summary>The age band, recorded or worked out from the age, which itself is never shown.</summary>
    public static string? AgeBand(JudgedRecord record) => record.Values.TryGetValue("age_band", out var band) ? band
        : record.Values.TryGetValue("age_years", out var age) ? Bands.First(each => Number(age) >= each.From || each.From == 0).Band : null;

    private static Column? Find(FieldDictionary dictionary, string column) =>
        dictionary.Of(FieldDictionary.Procedure).SelectMany(field => Column.Of(field)).FirstOrDefault(each => each.Name == column);

    private static string Cell(ImmutableDictionary<string, string> row, string name) => Wording.Plain(row.GetValueOrDefault(name, ""));

    // A device says the technique already.
    private static string Joined(ImmutableDictionary<string, string> row, string first, string second, string? third = null) =>
        string.Join(", ", new[] { third is null || !row.ContainsKey(first) ? second : "", third ?? "" }.Prepend(first)
            .Where(name => name.Length > 0 && row.ContainsKey(name) && row[name] != "none").Select(name => Cell(row, name)));

    private static string Measured(string value, string unit) => value.Length == 0 || unit.Length == 0 || unit[0] == '{' ? Wording.Plain(value)
        : Short(value) + Wording.Space + unit switch { "mm[Hg]" => "mmHg", "deg" => "degrees", _ => unit };

    // Forty seconds are two thirds of a minute: what was worked out from another unit has no end of digits.
    private static string Short(string value) => value.Length > 6 && double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) ? number.ToString("0.##", CultureInfo.InvariantCulture) : value;

    private static string Title(string column) => Wording.Plain(column) is { Length: > 0 } words ? char.ToUpperInvariant(words[0]) + words[1..] : column;

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
