using CsCheck;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ProportionTests
{
    private static readonly Gen<Count> AnyCount =
        Gen.Select(WilsonTests.AnyCount, Gen.Long[0, 1_000], (pair, missing) => new Count(pair.Met, pair.Eligible, missing));

    [Fact]
    public void An_estimate_carries_its_method_source_level_and_count()
    {
        var count = new Count(81, 263, 4);
        var wilson = Proportion.Estimate(count);
        var exact = Proportion.Estimate(count, IntervalMethod.ClopperPearson, 0.9);
        Assert.NotNull(wilson);
        Assert.NotNull(exact);
        Assert.Equal(("wilson", Wilson.Source, 0.95, count), (wilson.Method, wilson.Source, wilson.Level, wilson.Count));
        Assert.Equal(("clopper_pearson", ClopperPearson.Source, 0.9), (exact.Method, exact.Source, exact.Level));
        Assert.Equal(81 / 263.0, wilson.Value);
        Assert.Equal(Wilson.Interval(81, 263), new Bounds(wilson.Lower, wilson.Upper));
        Assert.Equal(ClopperPearson.Interval(81, 263, 0.9), new Bounds(exact.Lower, exact.Upper));
    }

    [Fact]
    public void Nothing_eligible_is_nothing_to_estimate()
    {
        Assert.Null(Proportion.Estimate(new Count(0, 0, 7)));
        Assert.Null(Proportion.MissingBounds(default));
        Assert.Equal(new Bounds(0, 1), Proportion.MissingBounds(new Count(0, 0, 7)));
    }

    [Fact]
    public void Missing_records_move_the_bounds_by_hand_arithmetic() =>
        // 8 met of 10, 10 missing: 8/20 and 18/20.
        Assert.Equal(new Bounds(0.4, 0.9), Proportion.MissingBounds(new Count(8, 10, 10)));

    [Fact]
    public void Missing_bounds_hold_the_value_and_every_way_the_missing_could_have_been() =>
        Gen.Select(AnyCount, Gen.Double[0, 1]).Sample((count, share) =>
        {
            var bounds = Proportion.MissingBounds(count)!.Value;
            var metAmongMissing = (long)(share * count.Missing);
            var truth = (double)(count.Met + metAmongMissing) / (count.Eligible + count.Missing);
            Assert.InRange(truth, bounds.Lower, bounds.Upper);
            Assert.InRange(Proportion.Estimate(count)!.Value, bounds.Lower, bounds.Upper);
        });

    [Theory]
    [InlineData(2, 1, 0)]
    [InlineData(-1, 1, 0)]
    [InlineData(0, 1, -1)]
    public void A_count_that_cannot_be_is_refused(long met, long eligible, long missing)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Proportion.Estimate(new Count(met, eligible, missing)));
        Assert.Throws<ArgumentOutOfRangeException>(() => Proportion.MissingBounds(new Count(met, eligible, missing)));
    }
}
