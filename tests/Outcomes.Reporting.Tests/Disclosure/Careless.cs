using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tests.Disclosure;

/// <summary>
/// What happens without merging: months and levels that are small are left out, the totals stand. The attack must succeed on it.
/// </summary>
internal static class Careless
{
    public static Release Of(ImmutableArray<MeasureSeries> measures, Month first, DisclosureRule rule) =>
        new(rule, new Timetable(1, 1), [.. measures.SelectMany(measure => Cells(measure, first, rule))]);

    private static IEnumerable<ReleasedCell> Cells(MeasureSeries measure, Month first, DisclosureRule rule)
    {
        var (months, last) = (measure.Counts.Length, first.AddMonths(measure.Counts.Length - 1));
        foreach (var (from, to, stratum, level, count, kind) in Enumerable.Range(0, months)
            .Select(at => (first.AddMonths(at), first.AddMonths(at), CountRow.All, CountRow.All, measure.Counts[at], CellKind.Block))
            .Append((first, last, CountRow.All, CountRow.All, Sum(measure.Counts), CellKind.Total))
            .Concat(measure.Levels.Select(level => (first, last, level.Stratum, level.Level, Sum(level.Counts), CellKind.Block))))
            if (rule.Safe(count))
                yield return new ReleasedCell(measure.Measure, from, to, stratum, level, rule.Shown(count), kind);
    }

    private static Count Sum(ImmutableArray<Count> counts) => counts.Aggregate(default(Count), (sum, count) => sum + count);
}
