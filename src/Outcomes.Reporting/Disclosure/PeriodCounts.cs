using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>What one measure counts in one period: all records, and the levels of every stratum.</summary>
internal sealed record PeriodCount(
    string Measure, bool Headline, Count Whole, ImmutableArray<(string Stratum, string Level, Count Count)> Levels)
{
    /// <summary>The counts of a level; of all levels where none is named.</summary>
    public Count Sum(string stratum, string? level) =>
        Levels.Where(each => each.Stratum == stratum && (level is null || each.Level == level))
            .Aggregate(default(Count), (sum, each) => sum + each.Count);

    /// <summary>What is kept of it with a release.</summary>
    public IEnumerable<EarlierCell> Cells(Period period) => Levels.Select(each => Cell(period, each.Stratum, each.Level, each.Count))
        .Prepend(Cell(period, CountRow.All, CountRow.All, Whole)).Select(cell => cell with { Shown = false });

    /// <summary>A count of it that is shown.</summary>
    public EarlierCell Cell(Period period, string stratum, string level, Count count) =>
        new(Measure, period.From, period.To, stratum, level, count);
}

/// <summary>Counts of a period, from records or from an earlier release.</summary>
internal static class PeriodCounts
{
    /// <summary>From records, with their levels only where the period may be split.</summary>
    public static ImmutableArray<PeriodCount> Of(IEnumerable<MeasureSeries> measures, Month first, Period period, bool split) =>
        [.. measures.Select(measure => new PeriodCount(measure.Measure, measure.Headline, Sum(measure.Counts, first, period),
            split
                ? [.. measure.Levels.Select(level => (level.Stratum, level.Level, Sum(level.Counts, first, period)))]
                : []))];

    /// <summary>From the counts that an earlier release showed of the measures; one that it did not show is left out.</summary>
    public static ImmutableArray<PeriodCount> Of(IEnumerable<MeasureSeries> measures, IReadOnlyList<EarlierCell> cells) =>
        [.. measures.Where(measure => cells.Any(cell => cell.Measure == measure.Measure && cell.Stratum == CountRow.All))
            .Select(measure => new PeriodCount(measure.Measure, measure.Headline,
                cells.First(cell => cell.Measure == measure.Measure && cell.Stratum == CountRow.All).Count,
                [.. cells.Where(cell => cell.Measure == measure.Measure && cell.Stratum != CountRow.All)
                    .Select(cell => (cell.Stratum, cell.Level, cell.Count))]))];

    private static Count Sum(ImmutableArray<Count> counts, Month first, Period period)
    {
        var sum = default(Count);
        for (var i = Math.Max(0, period.From.MonthsSince(first)); i <= Math.Min(counts.Length - 1, period.To.MonthsSince(first)); i++)
            sum += counts[i];
        return sum;
    }
}
