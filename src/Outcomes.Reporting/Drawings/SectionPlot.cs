using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Drawings;

/// <summary>What the chart of a section shows.</summary>
/// <param name="Title">Its heading.</param>
/// <param name="Per">What rates are printed per.</param>
/// <param name="Whole">All records together, where the blocks are of one measure.</param>
/// <param name="Blocks">What is drawn, in order.</param>
public sealed record SectionDrawing(string Title, int Per, Estimate? Whole, ImmutableArray<StrataBlock> Blocks);

/// <summary>
/// The chart of a section. One that sets two levels beside each other for all its measures draws a block a measure; any other draws its
/// first measure by each stratum.
/// </summary>
public static class SectionPlot
{
    /// <summary>What is drawn of a section; null where there is nothing to set beside each other.</summary>
    public static SectionDrawing? Of(SectionFigures section, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(section);
        if (section.Definition.Compare is { Measures.IsEmpty: true } compare)
        {
            var blocks = Blocks(section, compare.By, titles);
            return blocks.IsEmpty ? null : new(section.Definition.Title, 100, null, blocks);
        }

        return section.Measures is [{ Strata.IsEmpty: false } first, ..]
            ? new(first.Measure.Title + " by stratum", first.Measure.Per, first.Estimate,
                [.. first.Strata.Select(each => StrataBlock.Of(each, titles))])
            : null;
    }

    // Measures per thousand need another axis and stay in the table.
    private static ImmutableArray<StrataBlock> Blocks(SectionFigures section, string by, Titles titles) =>
    [
        .. section.Measures.Where(measure => measure.Measure.Per == 100)
            .Select(measure => new StrataBlock(measure.Measure.Id, measure.Measure.Title,
                [.. measure.Strata.Where(stratum => titles.Order(stratum.Field) is ["yes", "no"])
                    .SelectMany(stratum => Rows(stratum, by, titles))]))
            .Where(block => block.Rows.Length > 1),
    ];

    // Of another yes/no stratum the records with a yes, under its own title: they may overlap.
    private static IEnumerable<StrataRow> Rows(StratumFigures stratum, string by, Titles titles) => stratum.Field == by
        ? stratum.Levels.Where(level => level.Level != StratumFigures.Other)
            .Select(level => new StrataRow(LevelWording.Of(titles, by, level), level.Count, level.Estimate))
        : stratum.Levels.Where(level => level.Level == "yes")
            .Select(level => new StrataRow(titles.Column(stratum.Field), level.Count, level.Estimate));
}
