using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>
/// What of a record may stand on a case page. Only fields named here, and what a flag shows, are ever read for one: no date, no clock time,
/// no exact age, no free text, no site, no staff identity.
/// </summary>
public static class CaseColumns
{
    public const string AgeBand = "age_band";
    private const string AgeYears = "age_years";

    private static readonly (int From, string Band)[] Bands =
    [
        (90, "90+"), (75, "75-89"), (60, "60-74"), (45, "45-59"), (30, "30-44"), (16, "16-29"), (0, "0-15")
    ];

    public static readonly ImmutableArray<string> Patient =
        [
            AgeBand, "weight_band", "hour_band", "urgency", "location_type", "primary_indication", "indication", "cardiac_arrest_before",
            "infection_status"
        ];

    public static readonly ImmutableArray<string> Difficulty =
    [
        "macocha", "macocha_from_items", "difficulty_predicted", "anatomical_difficulty", "physiological_difficulty", "hypoxaemic_before"
    ];

    public static readonly ImmutableArray<string> Preparation =
        [
            "recorder_role", "senior_present", "help_called", "team_brief", "roles_allocated", "checklist", "plans_verbalised",
            "cricothyroid_membrane", "fona_kit_ready"
        ];

    /// <summary>Doses over body weight, which itself is shown as a band.</summary>
    public static readonly ImmutableArray<string> Doses =
    [
        "ketamine_mg_kg", "propofol_mg_kg", "etomidate_mg_kg", "thiopental_mg_kg", "midazolam_mg_kg", "rocuronium_mg_kg",
        "suxamethonium_mg_kg",
    ];

    public static readonly ImmutableArray<string> Technique =
    [
        "preox_method", "preox_min", "eto2_pre_pct", "apnoeic_oxygenation", "position", "head_up_deg", "induction_agent", "nmba",
        "rsi_type", .. Doses, "weight_estimated", "vasopressor_pre", "vasopressor_new", "fluid_bolus_ml",
    ];

    public static readonly ImmutableArray<string> Course =
    [
        "attempts", "spo2_pre", "lowest_spo2", "spo2_seconds_below_90", "sbp_pre", "lowest_sbp", "map_pre", "lowest_map", "oesophageal",
        "recognition_s", "complication", "cardiac_arrest_peri", "arrest_offset_min", "rosc",
    ];

    public static readonly ImmutableArray<string> End =
        ["final_plan", "final_airway", "co2_confirmation", "sustained_co2", "harm_level", "death_24h", "debrief_done", "airway_alert_issued"
        ];

    public static readonly ImmutableArray<string> Plans = ["plan_a", "plan_b", "plan_c", "plan_d"];

    /// <summary>Moments of the procedure, in seconds from induction.</summary>
    public static readonly ImmutableArray<string> Times =
    [
        "t_decision_s", "t_preox_start_s", "t_relaxant_s", "t_vasopressor_s", "t_first_blade_s", "t_cico_declared_s",
        "t_fona_s", "t_tube_confirmed_s",
    ];

    /// <summary>Fields of attempts that a page prints.</summary>
    public static readonly ImmutableArray<string> OfAttempts =
        [
            "plan", "technique", "device", "introducer", "view_mcl", "operator_specialty", "operator_grade", "supervised", "outcome",
            "spo2_min", "t_blade_in_s", "duration_s"
        ];

    /// <summary>The columns to ask the engine for.</summary>
    public static ImmutableArray<string> Asked(FieldDictionary dictionary)
    {
        ArgumentNullException.ThrowIfNull(dictionary);
        return
        [
            .. new[] { Patient, Difficulty, Preparation, Technique, Course, End, Plans, Times }.SelectMany(names => names).Append(AgeYears)
                .SelectMany(name => dictionary.Find(FieldDictionary.Procedure, name) is { } field
                    ? Column.Of(field).Select(column => column.Name)
                    : [name]).Distinct(),
        ];
    }

    /// <summary>True where a page may print the values of a column: codes, answers and measurements only.</summary>
    public static bool MayShow(FieldDictionary dictionary, string column) =>
        column is not (AgeYears or "as_of" or "site_code" or "unit_code")
        && Find(dictionary, column)
            is not { Field: { Type: FieldType.Text or FieldType.Date or FieldType.Time } or { Identifying: Identifying.DirectRisk } };

    /// <summary>The values of a record that pass, with the age as a band.</summary>
    public static ImmutableDictionary<string, string> Shown(JudgedRecord record, FieldDictionary dictionary)
    {
        ArgumentNullException.ThrowIfNull(record);
        var shown = record.Values.Where(pair => MayShow(dictionary, pair.Key)).ToImmutableDictionary(StringComparer.Ordinal);
        return Band(record) is { } band ? shown.SetItem(AgeBand, band) : shown;
    }

    /// <summary>A column of the record by name; null for a derived one.</summary>
    public static Column? Find(FieldDictionary dictionary, string column)
    {
        ArgumentNullException.ThrowIfNull(dictionary);
        return dictionary.Of(FieldDictionary.Procedure).SelectMany(field => Column.Of(field)).FirstOrDefault(each => each.Name == column);
    }

    // The band as recorded, or worked out from the age, which itself is never shown.
    private static string? Band(JudgedRecord record) => record.Values.TryGetValue(AgeBand, out var band) ? band
        : record.Values.TryGetValue(AgeYears, out var age)
            ? Bands.First(each => double.Parse(age, CultureInfo.InvariantCulture) >= each.From || each.From == 0).Band
            : null;
}
