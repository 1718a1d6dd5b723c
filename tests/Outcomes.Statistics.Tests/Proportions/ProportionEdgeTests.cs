using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Edges that mutation testing found untested: refusals, ends cut to 0 and 1, all met, and sums of counts.</summary>
public class ProportionEdgeTests
{
    public static TheoryData<IntervalMethod> Methods => [.. Enum.GetValues<IntervalMethod>()];

    private static Bounds Ends(IntervalMethod method, long met, long eligible, double level = 0.95)
    {
        var estimate = Proportion.Estimate(new(met, eligible, 0), method, level)!;
        return new(estimate.Lower, estimate.Upper);
    }

    [Fact]
    public void Each_interval_called_by_itself_refuses_what_is_no_count_and_no_level()
    {
        Func<long, long, double, Bounds>[] intervals =
        [
            Wilson.Interval, WilsonCorrected.Interval, ClopperPearson.Interval, Jeffreys.Interval, MidP.Interval, AgrestiCoull.Interval,
            LikelihoodInterval.Interval, Wald.Interval, Wald.Corrected,
            (met, eligible, level) => met == 0
                ? new(0, ClopperPearson.UpperWhenNone(eligible, level))
                : throw new ArgumentOutOfRangeException(nameof(met)),
        ];
        (long, long, double)[] impossible =
        [
            (-1, 10, 0.95), (11, 10, 0.95), (0, 0, 0.95), (0, -1, 0.95), (0, 10, 0), (0, 10, 1), (0, 10, -0.5), (0, 10, 1.5),
            (0, 10, double.NaN)
        ];
        foreach (var interval in intervals)
            foreach (var (met, eligible, level) in impossible)
                Assert.Throws<ArgumentOutOfRangeException>(() => interval(met, eligible, level));
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void All_met_mirrors_none_met_and_ends_at_exactly_1(IntervalMethod method)
    {
        foreach (var n in new[] { 1, 2, 3, 12, 77, 1_000 })
        {
            var (none, all) = (Ends(method, 0, n), Ends(method, n, n));
            Assert.Equal((0, 1), (none.Lower, all.Upper));
            Assert.Equal(none.Upper, 1 - all.Lower, 1e-12);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(20)]
    public void When_all_are_met_the_lower_end_solves_the_definition(int n)
    {
        // n of n has probability p^n. Exact: α/2 of it; mid-P: α/2 of its half; likelihood: 2 n ln(1/p) is the 95 % point of chi-square
        // with one degree of freedom, 3.841459 (published tables).
        Assert.Equal(0.025, Math.Pow(Ends(IntervalMethod.ClopperPearson, n, n).Lower, n), 1e-12);
        Assert.Equal(0.025, Math.Pow(Ends(IntervalMethod.MidP, n, n).Lower, n) / 2, 1e-12);
        Assert.Equal(3.841459, -2 * n * Math.Log(Ends(IntervalMethod.Likelihood, n, n).Lower), 1e-6);
    }

    [Fact]
    public void Ends_beyond_0_and_1_are_cut_and_others_are_left()
    {
        // One of 29 and 81 of 263 are two of Newcombe's cases (Stat Med 1998;17:857-872, table I): the first simple interval goes below 0.
        foreach (var (cut, uncut) in new[]
        {
            (Wald.Interval(1, 29), Wald.Uncut(1, 29, 0.95, 0)), (Wald.Corrected(1, 29), Wald.Uncut(1, 29, 0.95, 0.5)),
            (AgrestiCoull.Interval(1, 29), AgrestiCoull.Uncut(1, 29, 0.95)),
        })
        {
            Assert.True(uncut.Lower < 0);
            Assert.Equal(new Bounds(0, uncut.Upper), cut);
        }
        Assert.Equal(1, Wald.Interval(28, 29).Upper);
        Assert.Equal(1, AgrestiCoull.Interval(28, 29).Upper);
        Assert.Equal(Wald.Uncut(81, 263, 0.95, 0), Wald.Interval(81, 263));
        Assert.Equal(AgrestiCoull.Uncut(81, 263, 0.95), AgrestiCoull.Interval(81, 263));
    }

    [Fact]
    public void Counts_add_up_part_by_part() => Assert.Equal(new Count(11, 33, 9), new Count(4, 10, 2) + new Count(7, 23, 7));
}
