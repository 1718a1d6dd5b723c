using System.Collections.Immutable;
using Outcomes.Analysis;

namespace Outcomes.Reporting.Drawings;

/// <summary>A group of records that a section compares: its name on the page, and where its counts stand.</summary>
public sealed record SectionGroup(string Name, string Field, string Level);

/// <summary>A section's measures side by side in its groups: a block a measure, a row a group, drawn like strata.</summary>
public static class SectionPlot
{
    /// <summary>Nights and weekends.</summary>
    public static readonly ImmutableArray<SectionGroup> Hours =
    [
        new("out of hours", "out_of_hours", "yes"), new("in hours", "out_of_hours", "no")
    ];

    public static readonly ImmutableArray<SectionGroup> Infection =
    [
        new("infection suspected or confirmed", "infection_suspected", "yes"), new("not suspected", "infection_suspected", "no")
    ];

    /// <summary>A record can be foreseen as difficult and shocked: the first two overlap.</summary>
    public static readonly ImmutableArray<SectionGroup> Readiness =
    [
        new("difficult airway foreseen", "predicted_difficult", "yes"), new("shocked at induction", "shocked_before", "yes"),
        new("neither", "at_risk_before", "no"), new("not known", "at_risk_before", Measures.CountRow.MissingLevel),
    ];

    /// <summary>The charts of the sections that have one, with their titles.</summary>
    internal static IEnumerable<(StratifiedSection Section, string Title, ImmutableArray<StratumFigures> Blocks)> Of(Figures model) =>
        from each in ((StratifiedSection? Section, string Title, ImmutableArray<SectionGroup> Groups)[])
        [
            (model.Section("hours"), "Headline measures out of hours and in hours", Hours),
            (model.Section("infection"), "Headline measures with and without suspected infection", Infection),
            (model.Section("readiness"), "Prepared where trouble was foreseen", Readiness),
        ]
        where each.Section is not null
        let blocks = Blocks(each.Section, each.Groups)
        where !blocks.IsEmpty
        select (each.Section, each.Title, blocks);

    /// <summary>
    /// A block a measure with at least two groups to set beside each other. Measures per thousand need another axis and stay in the table.
    /// </summary>
    internal static ImmutableArray<StratumFigures> Blocks(StratifiedSection section, ImmutableArray<SectionGroup> groups) =>
    [
        .. section.Measures.Where(measure => measure.Measure.Per == 100)
            .Select(measure => new StratumFigures(measure.Measure.Id, measure.Measure.Title,
                [.. groups.Select(group => Group(measure, group)).OfType<LevelFigures>()]))
            .Where(block => block.Levels.Length > 1),
    ];

    /// <summary>What a measure is in a group, under the group's name; null where it is too small to stand alone.</summary>
    internal static LevelFigures? Group(StratifiedMeasure measure, SectionGroup group) =>
        measure.Strata.FirstOrDefault(stratum => stratum.Field == group.Field)?.Levels.FirstOrDefault(level => level.Level == group.Level)
            is { } found ? found with { Level = group.Name } : null;
}
