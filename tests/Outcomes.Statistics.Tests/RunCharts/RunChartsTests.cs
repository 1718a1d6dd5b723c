using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class RunChartsTests
{
    /// <summary>A series from April 2023 with these numbers met of the same number eligible.</summary>
    private static Series Of(long eligible, params long[] met) => From(4, [.. met.Select(m => new Count(m, eligible, 0))]);

    private static Series From(int month, params Count[] counts) => new(2023, month, ImmutableArray.Create(counts));

    [Fact]
    public void The_numbers_are_those_counted_by_hand()
    {
        // Median of 10 11 12 13 14 15 is 12.5; sides - - - + + + | + + - - + -: runs 3 5 2 1 1, so longest 5, 4 crossings.
        var chart = RunCharts.Analyse(Of(20, 10, 11, 12, 13, 14, 15, 16, 17, 3, 2, 18, 1), new() { BaselineMonths = 6 });
        Assert.Equal(PointSpan.Month, chart.Span);
        Assert.Equal(0.625, chart.Median!.Value, 1e-15);
        Assert.Equal((12, 5, 4), (chart.Useful, chart.LongestRun, chart.Crossings));
        // Published limits for 12 useful points: longer than 7, fewer than 3 (Anhøj and Olesen 2014).
        Assert.Equal((7, 3), (chart.RunLimit, chart.CrossingsLimit));
        Assert.Equal(Untested.No, chart.Untested);
        Assert.False(chart.Signals);
        Assert.Equal((0, 6), chart.Baseline);
    }

    [Fact]
    public void A_point_on_the_median_neither_breaks_nor_lengthens_a_run()
    {
        // Baseline 8 10 12: median 10. Sides: - . + + . + : the run of three holds across a point on the median.
        var chart = RunCharts.Analyse(Of(20, 8, 10, 12, 12, 10, 12), new() { BaselineMonths = 3 });
        Assert.Equal((4, 3, 1, 2), (chart.Useful, chart.LongestRun, chart.Crossings, chart.OnMedian));
    }

    [Fact]
    public void Equal_proportions_of_different_denominators_are_both_on_the_median()
    {
        var chart = RunCharts.Analyse(From(1, new(1, 10, 0), new(3, 30, 0), new(7, 70, 0), new(6, 30, 0)), new() { BaselineMonths = 3 });
        Assert.Equal(1, chart.Useful);
    }

    [Fact]
    public void A_month_without_cases_is_a_gap_and_never_a_zero()
    {
        var chart = RunCharts.Analyse(From(1, new(9, 12, 0), new(0, 0, 3), new(10, 12, 0), new(11, 12, 0)));
        Assert.Null(chart.Points[1].Value);
        Assert.Equal(new Count(0, 0, 3), chart.Points[1].Count);
        Assert.Equal(10 / 12.0, chart.Median);
        Assert.Equal(2, chart.Useful);
    }

    [Fact]
    public void The_frozen_baseline_does_not_hear_of_later_months()
    {
        long[] first = [10, 12, 9, 11, 13, 10, 12, 8, 11, 12, 10, 11];
        var before = RunCharts.Analyse(Of(20, first));
        var after = RunCharts.Analyse(Of(20, [.. first, 19, 19, 19, 19, 19, 19, 19, 19, 19]));
        Assert.Equal(before.Median, after.Median);
        Assert.True(after.LongRun);
        Assert.True(after.Signals);
        Assert.Equal(9, after.LongestRun);
    }

    [Fact]
    public void A_run_of_exactly_the_limit_and_crossings_of_exactly_the_limit_are_no_signal()
    {
        // 12 useful points: limits 7 and 3. Sides +++++++ - + - - -: longest 7, crossings 3.
        var atLimit = RunCharts.Analyse(Of(20, 15, 15, 15, 15, 15, 15, 15, 5, 15, 5, 5, 5), new() { BaselineFrom = 6, BaselineMonths = 2 });
        Assert.Equal((12, 7, 3), (atLimit.Useful, atLimit.LongestRun, atLimit.Crossings));
        Assert.False(atLimit.Signals);
        var beyond = RunCharts.Analyse(Of(20, 15, 15, 15, 15, 15, 15, 15, 15, 5, 15, 5, 5), new() { BaselineFrom = 7, BaselineMonths = 2 });
        Assert.Equal((8, 3), (beyond.LongestRun, beyond.Crossings));
        Assert.True(beyond.LongRun && !beyond.FewCrossings && beyond.Signals);
        var few = RunCharts.Analyse(Of(20, 15, 15, 15, 15, 15, 5, 15, 15, 15, 15, 15, 15), new() { BaselineFrom = 4, BaselineMonths = 2 });
        Assert.Equal((6, 2), (few.LongestRun, few.Crossings));
        Assert.True(!few.LongRun && few.FewCrossings && few.Signals);
    }

    [Fact]
    public void Below_ten_cases_a_point_the_chart_is_drawn_by_calendar_quarter_and_not_tested()
    {
        // From February: the first point is two months, then April to June, then July alone.
        var chart = RunCharts.Analyse(From(2, new(1, 4, 1), new(2, 5, 0), new(3, 4, 0), new(0, 0, 2), new(4, 5, 0), new(5, 5, 0)));
        Assert.Equal(PointSpan.Quarter, chart.Span);
        Assert.Equal(Untested.FewCases, chart.Untested);
        Assert.Equal([(0, 2), (2, 3), (5, 1)], chart.Points.Select(point => (point.Start, point.Months)));
        Assert.Equal([new Count(3, 9, 1), new Count(7, 9, 2), new Count(5, 5, 0)], chart.Points.Select(point => point.Count));
        Assert.False(chart.Signals);
    }

    [Fact]
    public void Ten_cases_at_the_median_month_are_enough()
    {
        var enough = From(1, [.. Enumerable.Range(0, 13).Select(i => new Count(i % 5, 4 + i, 0))]);
        Assert.Equal(PointSpan.Month, RunCharts.Analyse(enough).Span);
        var short1 = From(1, [.. Enumerable.Range(0, 12).Select(i => new Count(i % 5, 4 + i, 0))]);
        Assert.Equal(PointSpan.Quarter, RunCharts.Analyse(short1).Span);
        Assert.Equal(PointSpan.Month, RunCharts.Analyse(short1, new() { MinimumEligible = 9.5 }).Span);
    }

    [Fact]
    public void Months_without_cases_take_no_part_in_the_median_of_cases()
    {
        // 13 months of 12 cases among 14 empty ones: the median month with cases has 12.
        var counts = Enumerable.Range(0, 27).Select(i => i % 2 == 0 ? default : new Count(i % 12, 12, 0)).ToArray();
        Assert.Equal(PointSpan.Month, RunCharts.Analyse(From(1, counts)).Span);
    }

    [Fact]
    public void A_quarter_partly_inside_the_baseline_takes_no_part_in_it()
    {
        // From January, quarters at 20, 40, 90 and 60 %; a baseline of 8 months holds the first two whole, and two months of the third.
        var counts = Enumerable.Range(0, 12).Select(i => new Count(new[] { 4, 8, 18, 12 }[i / 3], 20, 0)).ToArray();
        var chart = RunCharts.Analyse(From(1, counts), new() { BaselineMonths = 8, Span = PointSpan.Quarter });
        Assert.Equal(0.3, chart.Median!.Value, 1e-15);
        Assert.Equal(0.65, RunCharts.Analyse(From(1, counts),
            new() { BaselineFrom = 1, BaselineMonths = 8, Span = PointSpan.Quarter }).Median!.Value, 1e-15);
    }

    [Fact]
    public void A_span_fixed_by_the_caller_is_kept_and_tested_only_with_enough_cases()
    {
        var counts = Enumerable.Range(0, 36).Select(i => new Count(i % 4, 6, 0)).ToArray();
        var monthly = RunCharts.Analyse(From(1, counts), new() { Span = PointSpan.Month });
        Assert.Equal((PointSpan.Month, 36, Untested.FewCases), (monthly.Span, monthly.Points.Length, monthly.Untested));
        Assert.True(monthly.Useful > 0 && monthly.RunLimit > 0 && monthly.Chance > 0);
        var quarterly = RunCharts.Analyse(From(1, counts), new() { Span = PointSpan.Quarter });
        Assert.Equal((PointSpan.Quarter, 12), (quarterly.Span, quarterly.Points.Length));
        Assert.NotEqual(Untested.FewCases, quarterly.Untested);
    }

    [Theory]
    [InlineData(12)]
    [InlineData(0)]
    public void A_median_at_the_edge_is_not_tested(long usual)
    {
        long[] met = [.. Enumerable.Range(0, 30).Select(i => i % 4 == 0 ? 6 : usual)];
        var chart = RunCharts.Analyse(Of(12, met));
        Assert.Equal(usual / 12.0, chart.Median);
        Assert.Equal(Untested.MedianAtEdge, chart.Untested);
        Assert.Equal((8, 8, 0), (chart.Useful, chart.LongestRun, chart.Crossings));
        Assert.False(chart.Signals);
    }

    [Fact]
    public void Fewer_than_ten_useful_points_are_not_tested()
    {
        long[] nine = [5, 15, 5, 15, 5, 15, 5, 15, 5];
        Assert.Equal(Untested.FewPoints, RunCharts.Analyse(Of(20, nine), new() { BaselineMonths = 2 }).Untested);
        Assert.Equal(Untested.No, RunCharts.Analyse(Of(20, [.. nine, 15]), new() { BaselineMonths = 2 }).Untested);
    }

    [Fact]
    public void Without_a_baseline_nothing_is_tested_or_counted()
    {
        RunChart[] charts =
        [
            RunCharts.Analyse(new(2024, 1, [])),
            RunCharts.Analyse(Of(20, 1, 2, 3), new() { BaselineFrom = 3 }),
            RunCharts.Analyse(Of(20, 1, 2, 3), new() { BaselineFrom = 99, BaselineMonths = 0 }),
            RunCharts.Analyse(From(1, new(0, 0, 5), new(0, 0, 0), new(15, 20, 0)), new() { BaselineMonths = 2 }),
        ];
        Assert.All(charts, chart =>
        {
            Assert.Equal((null, Untested.NoBaseline, 0, 0, 0, 0, 0),
                (chart.Median, chart.Untested, chart.Useful, chart.LongestRun, chart.RunLimit, chart.Crossings, chart.CrossingsLimit));
            Assert.Null(chart.Chance);
            Assert.False(chart.Signals);
        });
    }

    [Fact]
    public void A_series_that_cannot_be_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => RunCharts.Analyse(Of(20, 21)));
        Assert.Throws<ArgumentOutOfRangeException>(() => RunCharts.Analyse(From(13, new Count(1, 2, 0))));
        Assert.Throws<ArgumentOutOfRangeException>(() => RunCharts.Analyse(Of(20, 2), new() { BaselineFrom = -1 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => RunCharts.Analyse(Of(20, 2), new() { BaselineMonths = -1 }));
    }
}
