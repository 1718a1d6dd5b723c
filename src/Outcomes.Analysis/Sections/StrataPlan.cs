using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Analysis;

/// <summary>A field to split by: its heading and its levels in the order of printing; levels that are not named follow by name.</summary>
internal sealed record SplitField(string Field, string Title, params string[] Levels);

/// <summary>Which measures a section of the report splits by what.</summary>
/// <param name="Id">Its name.</param>
/// <param name="Months">The last months that it looks at: 12, or more where levels are rare.</param>
/// <param name="Measures">Proportions; null stands for the headline measures.</param>
/// <param name="Fields">Fields to split by.</param>
internal sealed record StrataPlan(string Id, int Months, ImmutableArray<string>? Measures, ImmutableArray<SplitField> Fields)
{
    /// <summary>Quantities that are split likewise.</summary>
    public ImmutableArray<string> Quantities { get; init; } = [];

    /// <summary>Measures that are asked beside the headline ones.</summary>
    public ImmutableArray<string> Also { get; init; } = [];

    /// <summary>A condition that all records of the section meet beside what a measure asks; null for none.</summary>
    public string? Among { get; init; }

    /// <summary>A yes/no field whose two levels are compared, and the measures for which they are; null for all.</summary>
    public (SplitField Field, ImmutableArray<string>? Measures)? Compare { get; init; }

    /// <summary>Fields within whose levels they are compared too, where collected.</summary>
    public ImmutableArray<SplitField> Within { get; init; } = [];

    /// <summary>The field whose levels are read as 1, 2, 3 for a trend of the first measure.</summary>
    public string? Trend { get; init; }

    /// <summary>The proportions of the section, limited to the records that it is about.</summary>
    public ImmutableArray<Measure> Proportions(AnalysisPlan plan)
    {
        var asked = (Measures ?? plan.Headline).Concat(Also).Distinct();
        var measures = asked.Select(id => plan.Definitions.Measures.FirstOrDefault(measure => measure.Id == id
            && measure.Kind == MeasureKind.Proportion)).OfType<Measure>();
        return [.. Among is { } among
            ? measures.Select(measure => measure with { Eligible = $"({measure.Eligible}) and {among}" })
            : measures];
    }

    /// <summary>The quantities of the section.</summary>
    public ImmutableArray<Measure> SplitQuantities(AnalysisPlan plan) =>
        [.. plan.Definitions.Measures.Where(measure => measure.Kind == MeasureKind.Quantity && Quantities.Contains(measure.Id))];

    /// <summary>Those of the section's measures that are compared.</summary>
    public IEnumerable<Measure> Compared(IEnumerable<Measure> measures) =>
        measures.Where(measure => Compare?.Measures is not { } ids || ids.Contains(measure.Id));

    /// <summary>The id under which a measure is counted among the records of one half of the comparison.</summary>
    public static string Half(Measure measure, string half) => $"{measure.Id} {half}";

    private static readonly SplitField State = new("spo2_band", "Saturation at induction", "below_90", "90_to_93", "94_or_more");

    private static readonly SplitField Enough = new("preoxygenated", "Preoxygenated 3 min or to EtO2 above 85 %", "yes", "no");

    private static readonly SplitField OutOfHours = new("out_of_hours", "Out of hours", "yes", "no");

    private static readonly SplitField Infection = new("infection_suspected", "Infection suspected or confirmed", "yes", "no");

    private static readonly SplitField AtRisk = new("at_risk_before", "Difficult airway foreseen or shocked", "yes", "no");

    private static readonly SplitField Place = new("location_type", "Location");

    private static readonly SplitField Difficulty = new("anatomical_difficulty", "Anatomical difficulty expected", "yes", "no");

    /// <summary>Who fell below 90 %, from what state, by which preoxygenation, after how many attempts.</summary>
    public static readonly StrataPlan Desaturation = new("desaturation", 36, ["spo2_below_90", "spo2_below_80", "spo2_fall_10"],
    [
        State, Enough,
        new("preoxygenated_by", "Preoxygenation by", "niv_or_cpap", "hfno", "tight_facemask_circuit", "bvm_assisted",
            "non_rebreather", "several", "none"),
        new("attempts_band", "Intubation attempts", "1", "2", "3_or_more"),
    ])
    {
        Quantities = ["seconds_below_90"],
        Compare = (Enough, ["spo2_below_90"]),
        Within = [State],
        Trend = "attempts_band",
    };

    /// <summary>Nights and weekends.</summary>
    public static readonly StrataPlan Hours = new("hours", 12, null,
    [
        new("hour_band", "Hours", "08-18", "18-22", "22-08"), new("day_type", "Day", "weekday", "weekend_holiday"), OutOfHours,
    ])
    {
        Also = ["senior_present"],
        Compare = (OutOfHours, null),
        Within = [Place, Difficulty],
    };

    /// <summary>Who and what was ready where trouble was foreseen, among records without arrest before induction.</summary>
    public static readonly StrataPlan Readiness = new("readiness", 12,
        ["senior_present", "vasopressor_at_hand", "front_of_neck_set_ready", "membrane_identified", "senior_pressor_neck_ready"],
        [new("predicted_difficult", "Difficult airway foreseen", "yes", "no"),
            new("shocked_before", "Shocked at induction", "yes", "no"), AtRisk])
    {
        Among = "not cardiac_arrest_before",
        Compare = (AtRisk, null),
        Within = [OutOfHours],
    };

    /// <summary>Patients whose infection was suspected or confirmed, beside the others.</summary>
    public static readonly StrataPlan Infectious = new("infection", 12, null, [Infection])
    {
        Quantities = ["staff_in_room", "decision_to_induction", "induction_to_tube"],
        Compare = (Infection, null),
        Within = [Place],
    };

    /// <summary>The sections of the report.</summary>
    public static readonly ImmutableArray<StrataPlan> Shipped = [Desaturation, Hours, Infectious, Readiness];
}
