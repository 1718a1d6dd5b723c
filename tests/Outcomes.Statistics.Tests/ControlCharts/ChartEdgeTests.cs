using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>
/// Edges of charts over time and between groups that mutation testing found untested; values by hand or by other formulas, as each test
/// says.
/// </summary>
public class ChartEdgeTests
{
    private static readonly ChartBaseline Whole = new(0, int.MaxValue);

    [Fact]
    public void A_chart_names_its_method_and_its_own_source()
    {
        ImmutableArray<Count> counts = [new(3, 10, 0), new(5, 10, 0)];
        Assert.Equal(AttributeCharts.LaneySource, AttributeCharts.Proportions(counts, Whole, LimitMethod.Laney).Source);
        Assert.Equal(AttributeCharts.ProportionSource, AttributeCharts.Proportions(counts, Whole).Source);
        Assert.Equal(AttributeCharts.LaneySource, AttributeCharts.Rates([3, 5], [10, 10], Whole, LimitMethod.Laney).Source);
        Assert.Equal(AttributeCharts.RateSource, AttributeCharts.Rates([3, 5], [10, 10], Whole, LimitMethod.Normal).Source);
        Assert.Equal("g_exact", RareEventChart.Cases([5, 9], null, Whole).Method);
        Assert.Equal("g_normal", RareEventChart.Cases([5, 9], null, Whole, LimitMethod.Normal).Method);
    }

    [Theory]
    [InlineData(19, 0, true)]
    [InlineData(20, 0, false)]
    [InlineData(19, 5, true)]
    [InlineData(20, 5, false)]
    public void A_baseline_of_fewer_than_twenty_values_is_short_without_gaps_and_later_values(int values, int gaps, bool isShort)
    {
        ImmutableArray<double?> points =
        [
            .. Enumerable.Range(0, values).Select(i => (double?)(10 + (i % 3))), .. Enumerable.Repeat((double?)null, gaps),
            .. Enumerable.Repeat((double?)11, 30)
        ];
        var chart = IndividualsCharts.Analyse(points, new(0, values + gaps));
        Assert.Equal(isShort ? [ChartDoubt.ShortBaseline] : [], chart.Values.Doubts);
        Assert.Equal(chart.Values.Doubts, chart.Ranges.Doubts);
    }

    [Fact]
    public void A_gap_among_single_values_has_no_limits_and_joins_its_neighbours()
    {
        // By hand: mean 11, ranges 2 and 1 (over the gap), so 11 ± 2.66 × 1.5 and at most 3.267 × 1.5.
        var (values, ranges) = IndividualsCharts.Analyse([10, 12, null, 11], Whole);
        Assert.Equal((null, null), (values.Points[2].Lower, values.Points[2].Upper));
        Assert.Equal((null, null), (ranges.Points[2].Lower, ranges.Points[2].Upper));
        Assert.Equal(11 - (2.66 * 1.5), values.Points[3].Lower!.Value, 1e-12);
        Assert.Equal(1, ranges.Points[3].Value);
        Assert.Equal(3.267 * 1.5, ranges.Points[3].Upper!.Value, 1e-12);
        Assert.Null(ranges.Points[0].Upper);
        Assert.Throws<ArgumentOutOfRangeException>(() => IndividualsCharts.Analyse([10, 12], new(-1, 2)));
    }

    [Fact]
    public void A_normal_g_chart_is_centred_on_the_mean_and_an_exact_one_on_the_median()
    {
        // Gaps with mean 10: normal limits 10 ± 3 √90 (Benneyan 2001); median ⌈ln ½ / ln 0.9⌉ = 7, exact upper ⌈ln 0.00134990 / ln 0.9⌉ =
        // 63.
        var normal = RareEventChart.Cases([4, 16], null, Whole, LimitMethod.Normal);
        Assert.Equal((10, 1), (normal.Centre, normal.Points[0].Lower));
        Assert.Equal(10 + (3 * Math.Sqrt(90)), normal.Points[0].Upper!.Value, 1e-12);
        var exact = RareEventChart.Cases([4, 16], null, Whole);
        Assert.Equal((7, 1, 63), (exact.Centre, exact.Points[0].Lower, exact.Points[0].Upper));
    }

    [Fact]
    public void Gaps_are_called_often_from_one_event_in_five_and_short_below_twenty()
    {
        ImmutableArray<long> Gaps(long gap, int number) => [.. Enumerable.Repeat(gap, number)];
        Assert.Contains(ChartDoubt.NotRare, RareEventChart.Cases(Gaps(5, 20), null, Whole).Doubts);
        Assert.DoesNotContain(ChartDoubt.NotRare, RareEventChart.Cases(Gaps(6, 20), null, Whole).Doubts);
        Assert.DoesNotContain(ChartDoubt.ShortBaseline, RareEventChart.Cases(Gaps(6, 20), null, Whole).Doubts);
        Assert.Contains(ChartDoubt.ShortBaseline, RareEventChart.Cases(Gaps(6, 19), null, Whole).Doubts);
        // Only 19 of these lie within the baseline, by its start and by its length.
        Assert.Contains(ChartDoubt.ShortBaseline, RareEventChart.Cases(Gaps(6, 24), null, new(5, int.MaxValue)).Doubts);
        Assert.Contains(ChartDoubt.ShortBaseline, RareEventChart.Cases(Gaps(6, 24), null, new(0, 19)).Doubts);
        Assert.Equal([ChartDoubt.NoBaseline], RareEventChart.Times([3], null, new(1, 5)).Doubts);
        Assert.Equal([ChartDoubt.NoBaseline], RareEventChart.Times([], null, Whole).Doubts);
    }

    [Fact]
    public void Times_that_are_often_0_are_doubted_from_one_in_ten()
    {
        ImmutableArray<double> Times(int zeros, int all) => [.. Enumerable.Range(0, all).Select(i => i < zeros ? 0.0 : 30.0)];
        Assert.Equal([ChartDoubt.ZeroTimes], RareEventChart.Times(Times(2, 20), null, Whole).Doubts);
        Assert.Empty(RareEventChart.Times(Times(2, 21), null, Whole).Doubts);
        Assert.Empty(RareEventChart.Times(Times(0, 20), null, Whole).Doubts);
        var never = RareEventChart.Times(Times(20, 20), null, Whole);
        Assert.Equal((null, null), (never.Centre, never.Points[0].Upper));
        Assert.Equal([ChartDoubt.BaselineAtEdge, ChartDoubt.ZeroTimes], never.Doubts);
        Assert.Equal([ChartDoubt.BaselineAtEdge, ChartDoubt.ZeroTimes], RareEventChart.Times(Times(3, 3), null, Whole).Doubts);
    }

    [Fact]
    public void An_open_gap_belongs_to_no_baseline()
    {
        var chart = RareEventChart.Cases([6, 8], 3, Whole);
        Assert.Equal((true, true, false), (chart.Points[0].InBaseline, chart.Points[1].InBaseline, chart.Points[2].InBaseline));
        Assert.True(chart.Points[2].Open && !chart.Points[1].Open);
    }

    [Fact]
    public void A_baseline_holds_its_points_and_a_point_on_a_limit_is_not_beyond()
    {
        ChartBaseline baseline = new(3, 2);
        Assert.Equal([false, false, false, true, true, false], Enumerable.Range(0, 6).Select(baseline.Contains));
        Assert.False(new ControlPoint(0, 5, 1, 5, false).Beyond);
        Assert.False(new ControlPoint(0, 1, 1, 5, false).Beyond);
        Assert.True(new ControlPoint(0, 5.1, 1, 5, false).Beyond && new ControlPoint(0, 0.9, 1, 5, false).Beyond);
        Assert.False(new ControlPoint(0, null, 1, 5, false).Beyond);
    }

    [Fact]
    public void Cumulative_sums_add_up_point_by_point()
    {
        // Poisson intervals of 1 and of 4 events, Garwood 1936 as in tables: 0.0253 to 5.572 and 1.090 to 10.242.
        var points = CumulativePoisson.Accumulate([0, 1, 3], [0, 2, 2]);
        Assert.Equal([(0L, 0.0), (1, 2), (4, 4)], points.Select(point => (point.Observed, point.Expected)));
        Assert.Equal((null, null, null), (points[0].Ratio, points[0].Lower, points[0].Upper));
        Assert.Equal((0.5, 1), (points[1].Ratio!.Value, points[2].Ratio!.Value));
        Assert.Equal(0.0253 / 2, points[1].Lower!.Value, 1e-4);
        Assert.Equal(5.572 / 2, points[1].Upper!.Value, 1e-3);
        Assert.Equal(1.090 / 4, points[2].Lower!.Value, 1e-3);
        Assert.Equal(10.242 / 4, points[2].Upper!.Value, 1e-3);
    }

    [Fact]
    public void A_sum_signals_when_it_passes_its_limit_and_not_on_it()
    {
        // By hand: target 10, allowance 1, limit 4. Rises 3, 6 and falls 1, 3, 5.
        var rise = MeanCharts.Cusum([14, 12, 14], 10, 1, 4);
        Assert.Equal([3, 4, 7], rise.High);
        Assert.Equal(2, rise.SignalAt);
        var fall = MeanCharts.Cusum([6, 8, 6, 20], 10, 1, 4);
        Assert.Equal([3, 4, 7, 0], fall.Low);
        Assert.Equal([0, 0, 0, 9], fall.High);
        Assert.Equal(2, fall.SignalAt);
        Assert.Null(MeanCharts.Cusum([14, 12], 10, 1, 4).SignalAt);
        Assert.False(MeanCharts.Ewma([14], 10, 1, 0.2).Points[0].InBaseline);
    }

    [Fact]
    public void A_learners_sums_stop_at_the_limit_that_they_reach_first()
    {
        // Rates 0.1 and 0.2 with chances of 0.1: P = ln 2, Q = ln(0.9/0.8), s = 0.14523, h = ln 9 / (P + Q) = 2.70953 (Bolsin and Colson's
        // formulas by hand).
        var (p, q) = (Math.Log(2), Math.Log(9.0 / 8));
        var h = Math.Log(9) / (p + q);
        var good = LearningCurve.Follow([.. new bool[40], .. Enumerable.Repeat(true, 40)], 0.1, 0.2);
        Assert.Equal((h, -h), (good.Upper, good.Lower));
        Assert.Equal((int)Math.Ceiling(h / (q / (p + q))) - 1, good.AcceptableAt);
        Assert.Null(good.UnacceptableAt);
        var bad = LearningCurve.Follow([true, true, true, true, .. new bool[60]], 0.1, 0.2);
        Assert.Equal((null, 3), (bad.AcceptableAt, bad.UnacceptableAt));
        var open = LearningCurve.Follow([true, false, false], 0.1, 0.2);
        Assert.Equal((null, null), (open.AcceptableAt, open.UnacceptableAt));
        Assert.Equal(good.Failure + (2 * good.Success), open.Sums[2], 1e-15);
        // A limit reached to the digit is reached: with s = ½ and h = 3 steps of ½.
        var even = LearningCurve.Follow([true, true, true, true, true, true], 0.25, 0.75, 1 / 28.0, 1 / 28.0);
        Assert.Equal(0.5, even.Failure, 1e-15);
        Assert.Equal(Array.FindIndex([.. even.Sums], sum => sum >= even.Upper), even.UnacceptableAt ?? -1);
        var scores = LearningCurve.Competence([false, true, false], 0.1, 0.2);
        Assert.Equal(Math.Log(9.0 / 8), scores[0], 1e-15);
        Assert.Equal(0, scores[1]);
        Assert.Equal(Math.Log(9.0 / 8), scores[2], 1e-15);
        // Twelve successes outweigh one failure at half the odds: the sum of both, not 0.
        var longer = LearningCurve.Competence([.. new bool[12], true], 0.1, 0.2);
        Assert.Equal((12 * Math.Log(9.0 / 8)) + Math.Log(0.1 / 0.2), longer[12], 1e-13);
    }

    [Fact]
    public void Winsorised_scores_are_cut_at_interpolated_quantiles()
    {
        // By hand: deciles of 0, 1 … 10 are 1 and 9; squares 1 + 1 + 4 + … + 64 + 81 + 81 = 367.
        double[] z = [.. Enumerable.Range(0, 11).Select(i => (double)i)];
        var cut = Overdispersion.Estimate(z, [.. Enumerable.Repeat(1.0, 11)]);
        Assert.Equal((1, 9), (cut.Lower, cut.Upper));
        Assert.Equal((1 + 1 + 4 + 9 + 16 + 25 + 36 + 49 + 64 + 81 + 81) / 11.0, cut.Phi, 1e-12);
        var between = Overdispersion.Estimate([3, 0, 2], [1, 1, 1], 0.25);
        Assert.Equal((1, 2.5), (between.Lower, between.Upper));
        var whole = Overdispersion.Estimate([3, 0, 2], [1, 1, 1], 0);
        Assert.Equal((0, 3), (whole.Lower, whole.Upper));
    }

    [Fact]
    public void A_funnel_doubts_what_is_on_the_wrong_side_of_its_lines()
    {
        GroupCount[] Groups(int number, long eligible = 100) =>
            [.. Enumerable.Range(0, number).Select(i => new GroupCount($"{i}", new(eligible * 3 / 10, eligible, 0)))];
        Assert.Equal([FunnelDoubt.FewGroups], Funnels.Analyse([.. Groups(9)]).Doubts);
        Assert.Empty(Funnels.Analyse([.. Groups(10)]).Doubts);
        // One group of exactly a third of the records does not rule, one of more does.
        Assert.DoesNotContain(FunnelDoubt.OneGroupRules, Funnels.Analyse([.. Groups(3)]).Doubts);
        Assert.Contains(FunnelDoubt.OneGroupRules, Funnels.Analyse([new("A", new(33, 110, 0)), .. Groups(2)]).Doubts);
        Assert.Contains(FunnelDoubt.OneGroupRules, Funnels.Analyse([.. Groups(12), new("A", new(3_000, 10_000, 0))]).Doubts);
        // Half of the groups far off: overdispersed by Pearson's test; moderately off: not comparable only beyond φ 4.
        GroupCount[] Off(long by) =>
            [.. Groups(12).Select((group, i) => group with { Count = new(i % 2 == 0 ? 30 - by : 30 + by, 100, 0) })];
        Assert.Empty(Funnels.Analyse([.. Off(5)]).Doubts);
        Assert.Equal([FunnelDoubt.Overdispersed], Funnels.Analyse([.. Off(7)]).Doubts);
        Assert.Equal([FunnelDoubt.Overdispersed, FunnelDoubt.NotComparable], Funnels.Analyse([.. Off(10)]).Doubts);
        Assert.Empty(Funnels.Analyse([new("A", default)]).Points.Where(point => point.Limits is not null));
        Assert.Equal([FunnelDoubt.NoTarget], Funnels.Analyse([new("A", new(7, 7, 0)), new("B", default)]).Doubts);
        Assert.Null(Funnels.Analyse([new("A", default)]).Target);
    }

    [Fact]
    public void Interpolated_limits_are_within_one_count_of_exact_ones_and_widening_moves_both()
    {
        ImmutableArray<GroupCount> groups =
            [.. Enumerable.Range(0, 12).Select(i => new GroupCount($"{i}", new(i % 2 == 0 ? 10 : 20, 50, 0)))];
        Funnel Of(FunnelLimits limits, Widening widening = Widening.None) => Funnels.Analyse(groups, 0.3, limits, widening);
        var (exact, between) = (Of(FunnelLimits.Exact).Points[0].Limits!, Of(FunnelLimits.Interpolated).Points[0].Limits!);
        foreach (var (one, other) in new[] { (exact.Within95, between.Within95), (exact.Within998, between.Within998) })
        {
            Assert.InRange(other.Lower - one.Lower, -0.02, 0.02);
            Assert.InRange(other.Upper - one.Upper, -0.02, 0.02);
        }
        // Spiegelhalter 2005: target ± z √(φ p q / n), below as above.
        var wide = Of(FunnelLimits.Normal, Widening.Multiplicative);
        var half = 1.959963984540054 * Math.Sqrt(wide.Dispersion!.Phi * 0.21 / 50);
        Assert.True(wide.Dispersion.Phi > 1);
        Assert.Equal(0.3 - half, wide.Points[0].Limits!.Within95.Lower, 1e-9);
        Assert.Equal(0.3 + half, wide.Points[0].Limits!.Within95.Upper, 1e-9);
    }

    [Fact]
    public void A_curve_ends_a_tenth_beyond_the_largest_group_in_two_hundred_steps()
    {
        var curve = Funnels.Analyse([new("A", new(300, 1_000, 0)), new("B", new(20, 50, 0))], 0.3).Curve;
        Assert.Equal((1, 1_100, 200), (curve[0].Eligible, curve[^1].Eligible, curve.Length));
    }
}
