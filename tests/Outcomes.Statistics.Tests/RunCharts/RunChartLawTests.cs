using System.Collections.Immutable;
using CsCheck;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class RunChartLawTests
{
    private static readonly RunChartOptions WholeMonthly = new() { BaselineMonths = int.MaxValue, Span = PointSpan.Month };

    private static readonly Gen<Count> AnyCount =
        Gen.Select(Gen.Long[0, 30], Gen.Double[0, 1], Gen.Long[0, 3],
            (eligible, share, missing) => new Count((long)(share * (eligible + 0.999)), eligible, missing));

    private static readonly Gen<Series> AnySeries =
        Gen.Select(Gen.Int[1, 12], AnyCount.Array[0, 60], (month, counts) => new Series(2024, month, ImmutableArray.Create(counts)));

    [Fact]
    public void Agrees_with_runs_cut_from_the_text_of_sides() => AnySeries.Sample(series =>
    {
        var chart = RunCharts.Analyse(series, WholeMonthly);
        double[] values = [.. series.Counts.Where(count => count.Eligible > 0).Select(count => (double)count.Met / count.Eligible)];
        int[] sides = [.. values.Where(value => Math.Abs(value - chart.Median!.Value) > 1e-9)
            .Select(value => Math.Sign(value - chart.Median!.Value))];
        Assert.Equal(BruteForce.LongestAndCrossings(sides), (chart.LongestRun, chart.Crossings));
        Assert.Equal(sides.Length, chart.Useful);
        // At least half of the values are at or above the median, and at least half at or below.
        Assert.True(2 * sides.Count(side => side > 0) <= values.Length && 2 * sides.Count(side => side < 0) <= values.Length);
    });

    [Fact]
    public void Counting_the_opposite_mirrors_the_chart() => AnySeries.Sample(series =>
        SameRuns(RunCharts.Analyse(series, WholeMonthly),
            RunCharts.Analyse(Each(series, count => count with { Met = count.Eligible - count.Met }), WholeMonthly)));

    [Fact]
    public void Scaling_every_count_changes_no_run() => AnySeries.Sample(series =>
        SameRuns(RunCharts.Analyse(series, WholeMonthly), RunCharts.Analyse(Each(series, count => count + count + count), WholeMonthly)));

    [Fact]
    public void Reading_backwards_changes_no_run() => AnySeries.Sample(series =>
        SameRuns(RunCharts.Analyse(series, WholeMonthly),
            RunCharts.Analyse(series with { Counts = [.. series.Counts.Reverse()] }, WholeMonthly)));

    [Fact]
    public void Months_without_cases_change_no_run() => AnySeries.Sample(series =>
        SameRuns(
            RunCharts.Analyse(series, WholeMonthly),
            RunCharts.Analyse(series with { Counts = [.. series.Counts.SelectMany(count => new[] { count, new Count(0, 0, 1) })] },
                WholeMonthly)));

    [Fact]
    public void Points_add_up_to_the_series_whatever_their_span() =>
        Gen.Select(AnySeries, Gen.Int[0, 40], Gen.Int[0, 40]).Sample((series, from, months) =>
        {
            var total = series.Counts.Aggregate(default(Count), (sum, count) => sum + count);
            foreach (PointSpan? span in new PointSpan?[] { null, PointSpan.Month, PointSpan.Quarter })
            {
                var chart = RunCharts.Analyse(series, new() { Span = span, BaselineFrom = from, BaselineMonths = months });
                Assert.Equal(total, chart.Points.Aggregate(default(Count), (sum, point) => sum + point.Count));
                Assert.Equal(series.Counts.Length, chart.Points.Sum(point => point.Months));
                Assert.Equal(chart.Points.Count(point => point.Value is not null),
                    chart.Median is null ? chart.Points.Count(point => point.Value is not null) : chart.Useful + chart.OnMedian);
                Assert.True(chart.LongestRun + chart.Crossings <= chart.Useful);
                Assert.True(chart.LongestRun * (chart.Crossings + 1) >= chart.Useful);
                Assert.True(chart.Untested == Untested.No || !chart.Signals);
                Assert.True(chart.Chance is null or (>= 0 and <= 1));
            }
        });

    private static Series Each(Series series, Func<Count, Count> change) => series with { Counts = [.. series.Counts.Select(change)] };

    private static void SameRuns(RunChart one, RunChart other) =>
        Assert.Equal(
            (one.Useful, one.LongestRun, one.Crossings, one.RunLimit, one.CrossingsLimit, one.LongRun, one.FewCrossings, one.Chance),
            (other.Useful, other.LongestRun, other.Crossings, other.RunLimit, other.CrossingsLimit, other.LongRun,
                other.FewCrossings, other.Chance));
}
