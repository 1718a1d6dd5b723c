using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Edges that mutation testing found unwatched; values by hand or by other formulas, as each test says.</summary>
public class EdgeTests
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
        Assert.Equal("g_exact", BetweenCharts.Cases([5, 9], null, Whole).Method);
        Assert.Equal("g_normal", BetweenCharts.Cases([5, 9], null, Whole, LimitMethod.Normal).Method);
    }

    [Fact]
    public void A_normal_g_chart_is_centred_on_the_mean_and_an_exact_one_on_the_median()
    {
        // Gaps with mean 10: normal limits 10 ± 3 √90 (Benneyan 2001); median ⌈ln ½ / ln 0.9⌉ = 7, exact upper ⌈ln 0.00134990 / ln 0.9⌉ = 63.
        var normal = BetweenCharts.Cases([4, 16], null, Whole, LimitMethod.Normal);
        Assert.Equal((10, 1), (normal.Centre, normal.Points[0].Lower));
        Assert.Equal(10 + (3 * Math.Sqrt(90)), normal.Points[0].Upper!.Value, 1e-12);
        var exact = BetweenCharts.Cases([4, 16], null, Whole);
        Assert.Equal((7, 1, 63), (exact.Centre, exact.Points[0].Lower, exact.Points[0].Upper));
    }

    [Fact]
    public void Gaps_are_called_often_from_one_event_in_five_and_short_below_twenty()
    {
        ImmutableArray<long> Gaps(long gap, int number) => [.. Enumerable.Repeat(gap, number)];
        Assert.Contains(ChartDoubt.NotRare, BetweenCharts.Cases(Gaps(5, 20), null, Whole).Doubts);
        Assert.DoesNotContain(ChartDoubt.NotRare, BetweenCharts.Cases(Gaps(6, 20), null, Whole).Doubts);
        Assert.DoesNotContain(ChartDoubt.ShortBaseline, BetweenCharts.Cases(Gaps(6, 20), null, Whole).Doubts);
        Assert.Contains(ChartDoubt.ShortBaseline, BetweenCharts.Cases(Gaps(6, 19), null, Whole).Doubts);
        // Only 19 of these lie within the baseline, by its start and by its length.
        Assert.Contains(ChartDoubt.ShortBaseline, BetweenCharts.Cases(Gaps(6, 24), null, new(5, int.MaxValue)).Doubts);
        Assert.Contains(ChartDoubt.ShortBaseline, BetweenCharts.Cases(Gaps(6, 24), null, new(0, 19)).Doubts);
        Assert.Equal([ChartDoubt.NoBaseline], BetweenCharts.Times([3], null, new(1, 5)).Doubts);
        Assert.Equal([ChartDoubt.NoBaseline], BetweenCharts.Times([], null, Whole).Doubts);
    }

    [Fact]
    public void Times_that_are_often_0_are_doubted_from_one_in_ten()
    {
        ImmutableArray<double> Times(int zeros, int all) => [.. Enumerable.Range(0, all).Select(i => i < zeros ? 0.0 : 30.0)];
        Assert.Equal([ChartDoubt.ZeroTimes], BetweenCharts.Times(Times(2, 20), null, Whole).Doubts);
        Assert.Empty(BetweenCharts.Times(Times(2, 21), null, Whole).Doubts);
        Assert.Empty(BetweenCharts.Times(Times(0, 20), null, Whole).Doubts);
        var never = BetweenCharts.Times(Times(20, 20), null, Whole);
        Assert.Equal((null, null), (never.Centre, never.Points[0].Upper));
        Assert.Equal([ChartDoubt.BaselineAtEdge, ChartDoubt.ZeroTimes], never.Doubts);
        Assert.Equal([ChartDoubt.BaselineAtEdge, ChartDoubt.ZeroTimes], BetweenCharts.Times(Times(3, 3), null, Whole).Doubts);
    }

    [Fact]
    public void An_open_gap_belongs_to_no_baseline()
    {
        var chart = BetweenCharts.Cases([6, 8], 3, Whole);
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
        var points = CumulativePoisson.Of([0, 1, 3], [0, 2, 2]);
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
        // Rates 0.1 and 0.2 with chances of 0.1: P = ln 2, Q = ln(0.9/0.8), s = 0.14523, h = ln 9 / (P + Q) = 2.70953 (Bolsin and Colson's formulas by hand).
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
    public void Quantile_ends_are_the_order_statistics_that_the_binomial_gives()
    {
        // Median of 10 values at 95 %: second and ninth, coverage 1 − 2 · 11/1024 (Conover's table, and by hand).
        var ten = Quantiles.Estimate(Enumerable.Range(1, 10).Select(i => ((double)i, 1L)))!;
        Assert.Equal((5.5, 2, 9, 2, 9, 10), (ten.Value, ten.Lower, ten.Upper, ten.LowerRank, ten.UpperRank, ten.N));
        Assert.Equal(1 - (22 / 1024.0), ten.Coverage, 1e-14);
        // Five values bound no median at 95 %, six do, with 1 − 2/64.
        var five = Quantiles.Estimate([(1, 2), (2, 1), (7, 2)])!;
        Assert.Equal((2, null, null, 0, 6, 1), (five.Value, five.Lower, five.Upper, five.LowerRank, five.UpperRank, five.Coverage));
        var six = Quantiles.Estimate([(1, 2), (2, 2), (7, 2)])!;
        Assert.Equal((2, 1, 7, 1, 6), (six.Value, six.Lower, six.Upper, six.LowerRank, six.UpperRank));
        Assert.Equal(1 - (2 / 64.0), six.Coverage, 1e-14);
        // The ninth decile of 10 has a lower end only: P(X < 7) = 0.0128 (a table of the binomial), none above.
        var high = Quantiles.Estimate(Enumerable.Range(1, 10).Select(i => ((double)i, 1L)), 0.9)!;
        Assert.Equal((7, null, 11), (high.Lower, high.Upper, high.UpperRank));
        Assert.Equal(1 - 0.0127951984, high.Coverage, 1e-9);
        var low = Quantiles.Estimate(Enumerable.Range(1, 10).Select(i => ((double)i, 1L)), 0.1)!;
        Assert.Equal((null, 4, 0), (low.Lower, low.Upper, low.LowerRank));
        // A tail met to the digit counts as inside: P(X < 1) = ¼ for two values and level ½.
        Assert.Equal((1, 2), Quantiles.Estimate([(4, 1), (9, 1)], 0.5, 0.5) is { } two ? (two.LowerRank, two.UpperRank) : default);
        Assert.Equal(4, Quantiles.Of([(4, 3), (9, 1), (100, 0)], 0.5));
    }

    [Theory]
    [InlineData(KappaWeights.None, 0.3)]
    [InlineData(KappaWeights.Linear, 0.5)]
    [InlineData(KappaWeights.Quadratic, 0.7)]
    public void Weighted_agreement_is_one_less_the_weighted_disagreement(KappaWeights weights, double _)
    {
        // Cohen 1968: 1 − Σ v o / Σ v e with disagreement v 1, |i − j| or (i − j)², whose scale cancels.
        long[][] table = [[20, 5, 1], [4, 15, 6], [2, 3, 14]];
        double total = 70, seen = 0, chance = 0;
        for (var i = 0; i < 3; i++)
        {
            for (var j = 0; j < 3; j++)
            {
                var v = weights switch { KappaWeights.None => i == j ? 0 : 1, KappaWeights.Linear => Math.Abs(i - j), _ => (i - j) * (i - j) };
                seen += v * table[i][j] / total;
                chance += v * table[i].Sum() * table.Sum(row => row[j]) / (total * total);
            }
        }
        var kappa = Kappa.Estimate(table, weights, 0.9)!;
        Assert.Equal(1 - (seen / chance), kappa.Value, 1e-14);
        Assert.Equal((kappa.Value - (1.6448536269514722 * kappa.StandardError), kappa.Value + (1.6448536269514722 * kappa.StandardError)), (kappa.Lower, kappa.Upper), Near);
        var scale = weights switch { KappaWeights.None => 1.0, KappaWeights.Linear => 2, _ => 4 };
        Assert.Equal(1 - (seen / scale), kappa.Observed, 1e-14);
        Assert.Equal(1 - (chance / scale), kappa.Expected, 1e-14);
        Assert.Equal(70, kappa.N);
    }

    [Fact]
    public void Agreement_of_few_keeps_its_ends_within_minus_1_and_1()
    {
        Assert.Equal(1, Kappa.Estimate([[3, 1], [0, 1]])!.Upper);
        Assert.Equal(-1, Kappa.Estimate([[0, 2], [2, 1]])!.Lower);
    }

    [Fact]
    public void A_trend_is_that_of_the_formula_written_out()
    {
        // Armitage 1955 by hand: 2/10, 5/10, 9/10 with scores 0, 1, 3; a group without records changes nothing.
        double[] scores = [0, 1, 3];
        long[] met = [2, 5, 9];
        double p = 16 / 30.0, mean = 4 / 3.0;
        var sum = scores.Select((score, i) => met[i] * (score - mean)).Sum();
        var spread = scores.Sum(score => 10 * (score - mean) * (score - mean));
        var trend = Trend.Test([new(2, 10, 0), new(5, 10, 0), new(9, 10, 0), new(0, 0, 4)], [0, 1, 3, 70])!;
        Assert.Equal(sum / Math.Sqrt(p * (1 - p) * spread), trend.Z, 1e-12);
        Assert.Equal(sum / spread, trend.Slope, 1e-14);
        Assert.Null(Trend.Test([new(2, 10, 0), new(5, 10, 0)], [1, 1]));
        Assert.Null(Trend.Test([new(2, 10, 0), new(0, 0, 0)], [1, 2]));
        Assert.NotNull(Trend.Test([new(2, 10, 0), new(5, 10, 0)], [5, 6]));
        Assert.NotNull(Trend.Test([new(2, 10, 0), new(5, 10, 0)], [0, 1]));
    }

    [Fact]
    public void Shrinking_moves_every_value_by_one_share_towards_the_mean()
    {
        // Efron and Morris 1977: c = 1 − (k − 3) σ² / Σ (x − mean)², and mean + c (x − mean). By hand: mean 5, sum of squares 20, c = 1 − 2 · 4 / 20.
        var shrunk = JamesStein.Shrink([2, 4, 5, 6, 8], 4);
        Assert.Equal((5, 0.6), (shrunk.Mean, shrunk.Factor));
        Assert.Equal([3.2, 4.4, 5, 5.6, 6.8], shrunk.Values, (one, other) => Math.Abs(one - other) < 1e-12);
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
        GroupCount[] Groups(int number, long eligible = 100) => [.. Enumerable.Range(0, number).Select(i => new GroupCount($"{i}", new(eligible * 3 / 10, eligible, 0)))];
        Assert.Equal([FunnelDoubt.FewGroups], Funnels.Analyse([.. Groups(9)]).Doubts);
        Assert.Empty(Funnels.Analyse([.. Groups(10)]).Doubts);
        // One group of exactly a third of the records does not rule, one of more does.
        Assert.DoesNotContain(FunnelDoubt.OneGroupRules, Funnels.Analyse([.. Groups(3)]).Doubts);
        Assert.Contains(FunnelDoubt.OneGroupRules, Funnels.Analyse([new("A", new(33, 110, 0)), .. Groups(2)]).Doubts);
        Assert.Contains(FunnelDoubt.OneGroupRules, Funnels.Analyse([.. Groups(12), new("A", new(3_000, 10_000, 0))]).Doubts);
        // Half of the groups far off: overdispersed by Pearson's test; moderately off: not comparable only beyond φ 4.
        GroupCount[] Off(long by) => [.. Groups(12).Select((group, i) => group with { Count = new(i % 2 == 0 ? 30 - by : 30 + by, 100, 0) })];
        Assert.Empty(Funnels.Analyse([.. Off(5)]).Doubts);
        Assert.Equal([FunnelDoubt.Overdispersed], Funnels.Analyse([.. Off(7)]).Doubts);
        Assert.Equal([FunnelDoubt.Overdispersed, FunnelDoubt.NotComparable], Funnels.Analyse([.. Off(10)]).Doubts);
        Assert.Empty(Funnels.Analyse([new("A", default)]).Points.Where(point => point.Limits is not null));
        Assert.Equal([FunnelDoubt.NoTarget], Funnels.Analyse([new("A", new(7, 7, 0)), new("B", default)]).Doubts);
        Assert.Null(Funnels.Analyse([new("A", default)]).Target);
    }

    [Fact]
    public void Interpolated_limits_lie_within_a_count_of_the_exact_ones_and_widened_ones_move_both_ways()
    {
        ImmutableArray<GroupCount> groups = [.. Enumerable.Range(0, 12).Select(i => new GroupCount($"{i}", new(i % 2 == 0 ? 10 : 20, 50, 0)))];
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

    [Fact]
    public void Segments_doubt_few_months_and_few_events_on_each_side()
    {
        Series Months(int before, int after, long met = 5, long eligible = 10) => new(2024, 1, [.. Enumerable.Repeat(new Count(met, eligible, 0), before + after)]);
        Assert.Empty(SegmentedRegression.Fit(Months(8, 8), 8).Doubts);
        Assert.Equal([SegmentedDoubt.FewMonths], SegmentedRegression.Fit(Months(7, 9), 7).Doubts);
        Assert.Equal([SegmentedDoubt.FewMonths], SegmentedRegression.Fit(Months(9, 7), 9).Doubts);
        // Ten events on each side are enough, eight are not; so it is with those that did not happen.
        Assert.Empty(SegmentedRegression.Fit(Months(10, 10, 1, 10), 10).Doubts);
        Assert.Equal([SegmentedDoubt.FewEvents], SegmentedRegression.Fit(Months(8, 10, 1, 10), 8).Doubts);
        Assert.Equal([SegmentedDoubt.FewEvents], SegmentedRegression.Fit(Months(8, 10, 9, 10), 8).Doubts);
        Assert.Equal([SegmentedDoubt.FewEvents], SegmentedRegression.Fit(Months(10, 8, 9, 10), 10).Doubts);
        // Four months leave no degree of freedom, five leave one.
        Assert.Contains(SegmentedDoubt.NoAnswer, SegmentedRegression.Fit(new(2024, 1, [new(3, 10, 0), new(5, 10, 0), new(4, 10, 0), new(6, 10, 0)]), 2).Doubts);
        Assert.NotNull(SegmentedRegression.Fit(new(2024, 1, [new(3, 10, 0), new(5, 10, 0), new(4, 10, 0), new(6, 10, 0), new(5, 10, 0)]), 2).Level);
    }

    [Fact]
    public void Back_from_the_double_arcsine_the_ends_are_0_and_1()
    {
        foreach (var n in new[] { 1.0, 7, 40 })
        {
            Assert.Equal(0, ProportionScale.FromDoubleArcsine(ProportionScale.DoubleArcsine(new(0, (long)n, 0)).Value, n), 1e-12);
            Assert.Equal(1, ProportionScale.FromDoubleArcsine(ProportionScale.DoubleArcsine(new((long)n, (long)n, 0)).Value, n), 1e-12);
            Assert.Equal((0, 1), (ProportionScale.FromDoubleArcsine(0, n), ProportionScale.FromDoubleArcsine(Math.PI / 2, n)));
        }
    }

    [Fact]
    public void Logarithms_of_nearly_1_keep_their_digits()
    {
        // ln(1 + x) = x − x²/2 + x³/3 and e^x − 1 = x + x²/2 + x³/6 to 16 digits for |x| below 1e-5.
        foreach (var x in new[] { 1e-5, -1e-5, 3e-9, -3e-9, 1e-17, 0 })
        {
            Assert.Equal(x - (x * x / 2) + (x * x * x / 3), SmallNumbers.LogOnePlus(x), Math.Abs(x) * 1e-15);
            Assert.Equal(x + (x * x / 2) + (x * x * x / 6), SmallNumbers.ExpMinusOne(x), Math.Abs(x) * 1e-15);
        }
        Assert.Equal(Math.Log(3), SmallNumbers.LogOnePlus(2), 1e-15);
        Assert.Equal(Math.E - 1, SmallNumbers.ExpMinusOne(1), 1e-15);
        Assert.Equal(-1, SmallNumbers.ExpMinusOne(-50));
        Assert.Equal(-1, SmallNumbers.ExpMinusOne(double.NegativeInfinity));
    }

    [Fact]
    public void A_proportion_of_far_log_odds_neither_overflows_nor_loses_digits()
    {
        Assert.Equal((0.5, 1, 0), (LogOdds.Proportion(0), LogOdds.Proportion(800), LogOdds.Proportion(-800)));
        Assert.Equal(Math.Exp(-40), LogOdds.Proportion(-40), 1e-30);
        Assert.Equal(0.8, LogOdds.Proportion(Math.Log(4)), 1e-15);
        Assert.Equal(0.2, LogOdds.Proportion(-Math.Log(4)), 1e-15);
    }

    [Fact]
    public void A_root_is_found_from_any_start_and_on_the_edge_of_the_search()
    {
        foreach (var start in new[] { -30.0, 0, 2, 30 })
        {
            Assert.Equal(3, LogOdds.Find(t => Math.Exp(t / 9) - Math.Exp(3 / 9.0), start), 1e-10);
            Assert.Equal(3, LogOdds.Find(t => 3 - t, start), 1e-10);
        }
        Assert.Equal((1.5, 2.5), (LogOdds.Find(t => t - 1.5, 2), LogOdds.Find(t => t - 2.5, 2)));
        Assert.Equal(0.3, LogOdds.Root((p, q) => p - (0.3 * (p + q)), 0.001), 1e-12);
        Assert.Equal(0.3, LogOdds.Root((p, q) => p - (0.3 * (p + q)), 1), 1e-12);
    }

    [Fact]
    public void Chances_of_a_binomial_term_meet_the_product_written_out()
    {
        // C(n, k) p^k q^(n−k) by multiplication, for n that use Stirling's series and n that do not, near the mean and far from it.
        foreach (var n in new[] { 1, 5, 15, 16, 17, 33, 100 })
        {
            foreach (var p in new[] { 0.01, 0.3, 0.5, 0.7, 0.99 })
            {
                for (var k = 0; k <= n; k++)
                {
                    var product = 1.0;
                    for (var i = 1; i <= k; i++)
                        product *= (n - k + i) / (double)i * p;
                    product *= Math.Pow(1 - p, n - k);
                    Assert.Equal(product, BinomialTerm.Of(k, n, p, 1 - p), product * 1e-13);
                }
            }
        }
        Assert.Equal((0, 0), (BinomialTerm.Of(2, 5, 0, 1), BinomialTerm.Of(2, 5, 1, 0)));
        Assert.Equal((1, 1), (BinomialTerm.Of(0, 5, 0, 1), BinomialTerm.Of(5, 5, 1, 0)));
        // Poisson: e^−m m^k / k! for k = 20 and mean 17.
        var poisson = Math.Exp(-17);
        for (var i = 1; i <= 20; i++)
            poisson *= 17.0 / i;
        Assert.Equal(Math.Log(poisson), BinomialTerm.PoissonLog(20, 17), 1e-13);
    }

    [Fact]
    public void An_interval_of_a_difference_tests_at_its_own_ends()
    {
        // Mee 1984: at an end the score (d − δ) / √(p₁q₁/n₁ + p₂q₂/n₂) is ±z, with the likeliest p₂ at that δ found here by search in thirds.
        foreach (var (x1, n1, x2, n2) in new[] { (7L, 10L, 2L, 10L), (1, 12, 0, 9), (0, 5, 5, 5), (29, 30, 14, 15), (3, 40, 3, 40), (5, 6, 5, 6) })
        {
            var estimate = DifferenceScore.Mee(new(x1, n1, 0), new(x2, n2, 0))!;
            foreach (var delta in new[] { estimate.Lower, estimate.Upper })
            {
                if (Math.Abs(delta) == 1)
                    continue;
                double least = Math.Max(0, -delta), most = Math.Min(1, 1 - delta);
                for (var step = 0; step < 300; step++)
                {
                    double one = least + ((most - least) / 3), two = most - ((most - least) / 3);
                    (least, most) = Likelihood(one) < Likelihood(two) ? (one, most) : (least, two);
                }
                var p2 = (least + most) / 2;
                var p1 = Math.Clamp(p2 + delta, 0, 1);
                var score = (estimate.Value - delta) / Math.Sqrt((p1 * (1 - p1) / n1) + (p2 * (1 - p2) / n2));
                Assert.Equal(1.959963984540054, Math.Abs(score), 1e-6);

                double Likelihood(double p) => Part(x1, p + delta) + Part(n1 - x1, 1 - p - delta) + Part(x2, p) + Part(n2 - x2, 1 - p);
            }
        }
        static double Part(long k, double p) => k == 0 ? 0 : k * Math.Log(Math.Max(p, 1e-300));
    }

    [Fact]
    public void The_start_of_a_change_is_a_range_within_the_reports()
    {
        // A change in the last report only, after a long quiet time, and one in the first.
        Count[] history = [.. Enumerable.Repeat(new Count(100, 1000, 0), 12)];
        Count[] Reports(int quiet, int changed) => [.. Enumerable.Repeat(new Count(100, 1000, 0), quiet), .. Enumerable.Repeat(new Count(170, 1000, 0), changed)];
        var late = ChangeOdds.Read([.. history], [.. Reports(6, 1)], Better.Down).Change!;
        Assert.Equal((6, 6, 6), (late.Start.Likeliest, late.Start.From, late.Start.To));
        var early = ChangeOdds.Read([.. history], [.. Reports(0, 1)], Better.Down).Change!;
        Assert.Equal((0, 0, 0, 1), (early.Start.Likeliest, early.Start.From, early.Start.To, early.Start.Chance));
        // The better way has ratios of its own.
        Count[] better = [.. Enumerable.Repeat(new Count(100, 1000, 0), 4), .. Enumerable.Repeat(new Count(45, 1000, 0), 2)];
        var fewer = ChangeOdds.Read([.. history], [.. better], Better.Down).Change!;
        Assert.Equal((false, 4), (fewer.ForTheWorse, fewer.Start.Likeliest));
        Assert.InRange(fewer.Start.Chance, 0.8, 1);
    }

    private static bool Near((double, double) one, (double, double) other) => Math.Abs(one.Item1 - other.Item1) < 1e-12 && Math.Abs(one.Item2 - other.Item2) < 1e-12;
}
