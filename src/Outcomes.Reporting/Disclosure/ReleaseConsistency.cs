using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>Whether a measure may be shown beside what an earlier release showed of it.</summary>
internal static class ReleaseConsistency
{
    /// <summary>
    /// True when every count of the earlier release is met again, as a block or a run of blocks of the same months, and differs by
    /// nothing or by enough. Corrected records and a changed first month are what breaks this.
    /// </summary>
    public static bool Holds(
        MeasureSeries measure, ImmutableArray<ReleasedCell> cells, ImmutableArray<EarlierCell> earlier, Month first, DisclosureRule rule) =>
            earlier.Where(cell => cell.Measure == measure.Measure)
                .All(cell => Now(measure, cells, cell, first, rule) is { } now && !rule.Differ(now, cell.Count));

    private static Count? Now(MeasureSeries measure, ImmutableArray<ReleasedCell> cells, EarlierCell cell, Month first, DisclosureRule rule)
    {
        if (cell.Stratum != CountRow.All)
            return cells.FirstOrDefault(each => each.Stratum == cell.Stratum && each.Level == cell.Level && each.From == cell.From
                && each.To == cell.To)?.Count;
        var blocks = cells.Where(each => each is { IsWhole: true, Kind: CellKind.Block }).ToArray();
        return blocks.Any(block => block.From == cell.From) && blocks.Any(block => block.To == cell.To)
            ? rule.Shown(new Block(cell.From.MonthsSince(first), cell.To.MonthsSince(first)).Sum(measure.Counts))
            : null;
    }
}
