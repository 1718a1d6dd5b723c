using System.Collections.Immutable;
using static Outcomes.Synthetic.Export.Cells;
using static Outcomes.Synthetic.Export.LocalCodes;

namespace Outcomes.Synthetic.Export;

/// <summary>The newest columns of procedures: doses, mean pressures, what was predicted and what came after.</summary>
internal static class NewestColumns
{
    public static readonly ImmutableArray<LocalColumn<Procedure>> All =
    [
        new("Weight estimated", p => YesNo(p.Sequel.WeightEstimated), 90),
        .. new[] { "ketamine", "propofol", "etomidate", "thiopental", "midazolam" }.Select(drug => new LocalColumn<Procedure>(
            $"{Drug[drug]} (mg)", p => Given(p.Preparation.InductionAgent == drug, p.Sequel.AgentMg), 70)),
        .. new[] { "rocuronium", "suxamethonium" }.Select(drug => new LocalColumn<Procedure>(
            $"{Drug[drug]} (mg)", p => Given(p.Preparation.Relaxant == drug, p.Sequel.RelaxantMg), 70)),
        new("Mean pressure before", p => Number(p.Sequel.MapPre), 90, IsVital: true),
        new("Mean pressure lowest", p => Number(p.Sequel.MapMin), 110, IsVital: true),
        new("Systolic below 90 (min)", p => Number(p.Sequel.MinutesBelow90), 120),
        new("Difficulty asked about", p => YesNo(p.Sequel.DifficultyAsked), 80),
        new("Difficulty predicted", p => YesNo(p.Sequel.DifficultyPredicted), 60),
        new("Died within 24 h", p => YesNo(p.Sequel.DiedWithin24Hours), 60),
        new("Debrief held", p => YesNo(p.Sequel.Debriefed), 110),
    ];

    private static string Given(bool given, int? dose) => given && dose is { } mg ? Number(mg) : NotApplicable;
}
