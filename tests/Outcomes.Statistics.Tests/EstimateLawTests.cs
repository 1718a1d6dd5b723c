using CsCheck;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Laws that hold whatever the numbers: order, mirrors, narrowing, nesting, sums.</summary>
public class EstimateLawTests
{
    private static readonly Gen<Count> AnyCount = Gen.Long[1, 20_000].SelectMany(n => Gen.Long[0, n].Select(k => new Count(k, n, 0)));
    private static readonly Gen<Count> SmallCount = Gen.Long[1, 200].SelectMany(n => Gen.Long[0, n].Select(k => new Count(k, n, 0)));
    private static readonly Gen<(Count First, Count Second)> Pair = Gen.Select(SmallCount, SmallCount);

    public static TheoryData<IntervalMethod> Methods => [.. Enum.GetValues<IntervalMethod>()];

    public static TheoryData<string> Differences => ["newcombe", "newcombe_cc", "agresti_caffo", "wald", "mee", "miettinen_nurminen"];

    public static TheoryData<string> Ratios => ["katz", "risk_score", "woolf", "gart", "odds_score", "exact", "mid_p"];

    [Theory]
    [MemberData(nameof(Methods))]
    public void An_interval_lies_in_order_within_0_and_1_and_mirrors(IntervalMethod method) => AnyCount.Sample(count =>
    {
        var estimate = Proportion.Estimate(count, method)!;
        Assert.True(estimate.Lower >= 0 && estimate.Lower <= estimate.Value && estimate.Value <= estimate.Upper && estimate.Upper <= 1);
        var mirror = Proportion.Estimate(new(count.Eligible - count.Met, count.Eligible, 0), method)!;
        Assert.Equal(estimate.Lower, 1 - mirror.Upper, 1e-14);
        Assert.Equal(estimate.Upper, 1 - mirror.Lower, 1e-14);
    });

    [Theory]
    [MemberData(nameof(Methods))]
    public void More_records_narrow_an_interval_and_a_higher_level_widens_it(IntervalMethod method) => AnyCount.Sample(count =>
    {
        var few = Proportion.Estimate(count, method)!;
        var many = Proportion.Estimate(new(count.Met * 2, count.Eligible * 2, 0), method)!;
        var sure = Proportion.Estimate(count, method, 0.99)!;
        Assert.True(many.Upper - many.Lower <= few.Upper - few.Lower);
        Assert.True(sure.Lower <= few.Lower && few.Upper <= sure.Upper);
    });

    [Fact]
    public void One_more_met_moves_both_ends_up() => AnyCount.Where(count => count.Met < count.Eligible).Sample(count =>
    {
        foreach (var method in new[]
        {
            IntervalMethod.Wilson, IntervalMethod.ClopperPearson, IntervalMethod.Jeffreys, IntervalMethod.MidP,
            IntervalMethod.WilsonCorrected
        })
        {
            var (now, next) = (Proportion.Estimate(count, method)!, Proportion.Estimate(count with { Met = count.Met + 1 }, method)!);
            Assert.True(next.Lower >= now.Lower && next.Upper >= now.Upper);
        }
    });

    [Fact]
    public void The_exact_interval_contains_mid_P_and_the_corrected_score_interval_the_plain_one() => AnyCount.Sample(count =>
    {
        var (exact, mid) = (ClopperPearson.Interval(count.Met, count.Eligible), MidP.Interval(count.Met, count.Eligible));
        Assert.True(exact.Lower <= mid.Lower && mid.Upper <= exact.Upper);
        var (corrected, plain) = (WilsonCorrected.Interval(count.Met, count.Eligible), Wilson.Interval(count.Met, count.Eligible));
        Assert.True(corrected.Lower <= plain.Lower && plain.Upper <= corrected.Upper);
    });

    [Theory]
    [MemberData(nameof(Methods))]
    public void Ten_million_records_keep_their_digits(IntervalMethod method)
    {
        // Beside each other at the scale of one: rare events are Poisson, so the limits times n settle down as n grows.
        var (large, larger) = (Proportion.Estimate(new(5, 10_000_000, 0), method)!, Proportion.Estimate(new(5, 20_000_000, 0), method)!);
        Assert.Equal(1, large.Upper * 1e7 / (larger.Upper * 2e7), 1e-5);
        Assert.True(large.Lower * 1e7 is >= 0 and < 5 && large.Upper * 1e7 is > 5 and < 12.5);
        var none = Proportion.Estimate(new(0, 10_000_000, 0), method)!;
        Assert.Equal(0, none.Lower);
        Assert.Equal(1, Proportion.Estimate(new(10_000_000, 10_000_000, 0), method)!.Upper);
    }

    [Theory]
    [MemberData(nameof(Differences))]
    public void Swapping_two_groups_turns_the_sign_of_a_difference(string method) => Pair.Sample((first, second) =>
    {
        var (one, other) = (Of(method, first, second), Of(method, second, first));
        Assert.Equal(one.Value, -other.Value, 1e-14);
        Assert.Equal(one.Lower, -other.Upper, 1e-10);
        Assert.Equal(one.Upper, -other.Lower, 1e-10);
        Assert.True(one.Lower >= -1 && one.Lower <= one.Upper && one.Upper <= 1);
    });

    [Theory]
    [MemberData(nameof(Ratios))]
    public void Swapping_two_groups_turns_a_ratio_over(string method) => Pair.Sample((first, second) =>
    {
        var (one, other) = (RatioOf(method, first, second), RatioOf(method, second, first));
        Assert.True(one.Lower <= one.Upper);
        Assert.True(Same(one.Lower, 1 / other.Upper) && Same(one.Upper, 1 / other.Lower), $"{one} {other}");
        if (!double.IsNaN(one.Value))
            Assert.True(one.Lower <= one.Value && one.Value <= one.Upper && Same(one.Value, 1 / other.Value), $"{one}");

        static bool Same(double a, double b) => a == b || Math.Abs(a - b) <= 1e-9 * Math.Abs(b);
    });

    [Fact]
    public void Counting_not_met_turns_an_odds_ratio_over() => Pair.Sample((first, second) =>
    {
        static Count Not(Count count) => count with { Met = count.Eligible - count.Met };
        var (met, not) = (ConditionalOdds.Exact(first, second)!, ConditionalOdds.Exact(Not(first), Not(second))!);
        Assert.True(met.Lower == 0 ? double.IsInfinity(not.Upper) : Math.Abs((met.Lower * not.Upper) - 1) < 1e-9);
    });

    [Fact]
    public void The_exact_odds_interval_leaves_out_1_just_when_a_one_sided_test_rejects() => Pair.Sample((first, second) =>
    {
        var (odds, test) = (ConditionalOdds.Exact(first, second)!, FisherExact.Test(first, second)!);
        Assert.Equal(test.Greater < 0.025, odds.Lower > 1);
        Assert.Equal(test.Less < 0.025, odds.Upper < 1);
        Assert.True(test.TwoSided is > 0 and <= 1 + 1e-12 && test.TwoSidedMidP < test.TwoSided);
        Assert.Equal(1, test.Less + test.Greater - (2 * (test.TwoSided - test.TwoSidedMidP)), 1e-9);
    });

    [Fact]
    public void One_stratum_pooled_is_that_stratum_and_its_copies_change_no_value() => Pair.Where(
        pair => pair.First.Met * (pair.First.Eligible - pair.First.Met) * pair.Second.Met * (pair.Second.Eligible - pair.Second.Met) > 0)
        .Sample(pair =>
        {
            var one = MantelHaenszel.OddsRatio([pair])!;
            var woolf = OddsRatio.Woolf(pair.First, pair.Second)!;
            Assert.Equal(1, one.Value / woolf.Value, 1e-12);
            Assert.Equal(1, one.Lower / woolf.Lower, 1e-9);
            Assert.Equal(1, MantelHaenszel.OddsRatio([pair, pair, pair])!.Value / woolf.Value, 1e-12);
            Assert.Equal(0, BreslowDay.Test([pair, pair])!.Statistic, 1e-6);
            Assert.Equal(1, MantelHaenszel.RiskRatio([pair])!.Upper / RiskRatio.Katz(pair.First, pair.Second)!.Upper, 1e-9);
            Assert.Equal(MantelHaenszel.Difference([pair])!.Lower, Difference.Wald(pair.First, pair.Second)!.Lower, 1e-12);
        });

    [Fact]
    public void Groups_of_two_make_trend_and_homogeneity_one_test() => Pair.Where(
        pair => pair.First.Met + pair.Second.Met is > 0 and var met && met < pair.First.Eligible + pair.Second.Eligible).Sample(pair =>
        {
            var trend = Trend.Test([pair.First, pair.Second], [3, 7])!;
            Assert.Equal(ChiSquare.Homogeneity([pair.First, pair.Second])!.Statistic, trend.ChiSquare, 1e-9 * (1 + trend.ChiSquare));
            Assert.Equal(((double)pair.Second.Met / pair.Second.Eligible) - ((double)pair.First.Met / pair.First.Eligible),
                trend.Slope * 4, 1e-12);
        });

    [Fact]
    public void Simultaneous_intervals_hold_the_shares_and_each_of_two_mirrors_the_other() =>
        Gen.Long[0, 60].Array[2, 8].Where(counts => counts.Sum() > 0).Sample(counts =>
        {
            double n = counts.Sum();
            var intervals = Goodman.Intervals(counts);
            for (var i = 0; i < counts.Length; i++)
                Assert.True(intervals[i].Lower >= 0 && intervals[i].Lower <= counts[i] / n && counts[i] / n <= intervals[i].Upper
                    && intervals[i].Upper <= 1);
            var two = Goodman.Intervals([counts[0], counts.Skip(1).Sum()]);
            Assert.Equal(two[0].Lower, 1 - two[1].Upper, 1e-14);
        });

    [Fact]
    public void What_is_no_table_no_share_and_no_level_is_named()
    {
        Assert.Throws<ArgumentOutOfRangeException>("counts", () => Goodman.Intervals([3]));
        Assert.Throws<ArgumentOutOfRangeException>("counts", () => Goodman.Intervals([0, 0]));
        Assert.Throws<ArgumentOutOfRangeException>("first", () => RateRatio.Exact((-1, 1), (1, 1)));
        Assert.Throws<ArgumentOutOfRangeException>("second", () => RateRatio.Exact((1, 1), (1, 0)));
        Assert.Throws<ArgumentOutOfRangeException>("p", () => BinomialTest.TwoSided(1, 2, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>("scores", () => Trend.Test([new(1, 2, 0)], []));
        Assert.Throws<ArgumentOutOfRangeException>("table", () => Kappa.Estimate([[1, 2], [3]]));
        Assert.Throws<ArgumentOutOfRangeException>("values", () => Quantiles.Estimate([(double.NaN, 1)]));
        Assert.Throws<ArgumentOutOfRangeException>("p", () => Quantiles.Estimate([(1, 1)], 1));
        Assert.Throws<ArgumentOutOfRangeException>("values", () => Moments.Of([double.PositiveInfinity]));
        Assert.Throws<ArgumentOutOfRangeException>("second", () => TwoProportionPower.Power(0.5, 0.5, 10));
        Assert.Throws<ArgumentOutOfRangeException>("level", () => ConditionalOdds.Exact(new(1, 2, 0), new(1, 2, 0), 1));
        Assert.Throws<ArgumentOutOfRangeException>("method", () => Proportion.Estimate(new(1, 2, 0), (IntervalMethod)99));
    }

    [Fact]
    public void Nothing_to_judge_leaves_no_estimate()
    {
        Count none = new(0, 0, 3), some = new(1, 2, 0), nobody = new(0, 5, 0);
        Assert.Null(DifferenceScore.Mee(none, some));
        Assert.Null(RiskRatio.Katz(some, none));
        Assert.Null(RiskRatio.Score(none, some));
        Assert.Null(OddsRatio.Woolf(some, none));
        Assert.Null(OddsRatio.Score(none, some));
        Assert.Null(ConditionalOdds.Exact(some, none));
        Assert.Null(FisherExact.Test(none, some));
        Assert.Null(RateRatio.Exact((0, 1), (0, 2)));
        Assert.Equal(1, RateRatio.PValue((0, 1), (0, 2)));
        Assert.Null(MantelHaenszel.OddsRatio([(none, some)]));
        Assert.Null(MantelHaenszel.Test([(nobody, nobody)]));
        Assert.Null(BreslowDay.Test([(some, some)]));
        Assert.Null(Trend.Test([nobody, nobody], [1, 2]));
        Assert.Null(ChiSquare.Homogeneity([some, none]));
        Assert.Null(Quantiles.Estimate([]));
        Assert.Null(Moments.None.StandardDeviation);
        Assert.Null(Moments.Of([5]).MeanInterval());
        Assert.Null(Kappa.Estimate([[4, 0], [0, 0]]));
    }

    [Fact]
    public void Empty_cells_leave_the_ends_that_the_data_give()
    {
        Count none = new(0, 10, 0), some = new(4, 10, 0), all = new(10, 10, 0);
        Assert.Equal((0, double.PositiveInfinity), (RiskRatio.Katz(none, some)!.Lower, RiskRatio.Katz(none, some)!.Upper));
        Assert.Equal((0, double.PositiveInfinity), (OddsRatio.Woolf(none, some)!.Lower, OddsRatio.Woolf(none, some)!.Upper));
        Assert.True(RiskRatio.Score(none, some)!.Upper is > 0.1 and < 2 && OddsRatio.Score(none, some)!.Upper is > 0.1 and < 2
            && ConditionalOdds.Exact(none, some)!.Upper is > 0.1 and < 2);
        Assert.True(double.IsNaN(ConditionalOdds.Exact(all, all)!.Value) && double.IsNaN(OddsRatio.Score(none, none)!.Value));
        Assert.Equal((0, double.PositiveInfinity), (ConditionalOdds.Exact(all, all)!.Lower, ConditionalOdds.Exact(all, all)!.Upper));
        Assert.Equal(1, DifferenceScore.MiettinenNurminen(all, none)!.Upper);
        Assert.Equal((0, double.PositiveInfinity),
            (MantelHaenszel.OddsRatio([(none, some)])!.Lower, MantelHaenszel.OddsRatio([(none, some)])!.Upper));
        Assert.Equal((0, double.PositiveInfinity),
            (MantelHaenszel.RiskRatio([(none, some)])!.Lower, MantelHaenszel.RiskRatio([(none, some)])!.Upper));
    }

    [Fact]
    public void Parts_of_values_add_up_to_the_whole_in_any_order() => Gen.Double[-1e6, 1e6].Array[1, 40].Sample(values =>
    {
        var half = values.Length / 2;
        var (whole, left, right) = (Moments.Of(values), Moments.Of(values[..half]), Moments.Of(values[half..]));
        foreach (var sum in new[] { left + right, right + left, left + Moments.None + right })
        {
            Assert.Equal((whole.N, whole.Least, whole.Greatest), (sum.N, sum.Least, sum.Greatest));
            Assert.Equal(whole.Mean, sum.Mean, 1e-8);
            Assert.Equal(whole.SumOfSquares, sum.SumOfSquares, 1e-9 * Math.Max(1, whole.SumOfSquares));
        }
    });

    [Fact]
    public void A_quantile_lies_within_its_ends_and_covers_its_level() =>
        Gen.Select(Gen.Select(Gen.Double[0, 100], Gen.Long[1, 50]).Array[1, 12], Gen.Double[0.05, 0.95]).Sample((values, p) =>
        {
            var quantile = Quantiles.Estimate(values, p)!;
            Assert.True((quantile.Lower ?? double.MinValue) <= quantile.Value && quantile.Value <= (quantile.Upper ?? double.MaxValue));
            Assert.InRange(quantile.Coverage, 0.95, 1);
            var turned = Quantiles.Estimate(values.Select(value => (-value.Item1, value.Item2)), 1 - p)!;
            Assert.Equal(quantile.N + 1 - quantile.UpperRank, turned.LowerRank);
        });

    [Fact]
    public void Perfect_agreement_is_1_and_weights_do_not_matter_for_two_categories() => Gen.Long[1, 60].Array[4].Sample(cells =>
    {
        Assert.Equal(1, Kappa.Estimate([[cells[0], 0], [0, cells[3]]])!.Value);
        long[][] table = [[cells[0], cells[1]], [cells[2], cells[3]]];
        var plain = Kappa.Estimate(table)!;
        Assert.Equal(plain.Value, Kappa.Estimate(table, KappaWeights.Quadratic)!.Value, 1e-12);
        Assert.Equal(plain.StandardError, Kappa.Estimate(table, KappaWeights.Linear)!.StandardError, 1e-12);
        Assert.True(plain.Lower >= -1 && plain.Upper <= 1);
    });

    private static DifferenceEstimate Of(string method, Count first, Count second) => (method switch
    {
        "newcombe" => Difference.Newcombe(first, second),
        "newcombe_cc" => Difference.NewcombeCorrected(first, second),
        "agresti_caffo" => Difference.AgrestiCaffo(first, second),
        "wald" => Difference.Wald(first, second),
        "mee" => DifferenceScore.Mee(first, second),
        _ => DifferenceScore.MiettinenNurminen(first, second),
    })!;

    private static RatioEstimate RatioOf(string method, Count first, Count second) => (method switch
    {
        "katz" => RiskRatio.Katz(first, second),
        "risk_score" => RiskRatio.Score(first, second),
        "woolf" => OddsRatio.Woolf(first, second),
        "gart" => OddsRatio.Gart(first, second),
        "odds_score" => OddsRatio.Score(first, second),
        "exact" => ConditionalOdds.Exact(first, second),
        _ => ConditionalOdds.Mid(first, second),
    })!;
}
