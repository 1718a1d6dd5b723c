using Outcomes.CaseMix;

namespace Outcomes.Tests;

public class StandardisedRatioTests
{
    [Fact]
    public void Welsh_nickel_workers_have_the_ratio_and_limits_of_R()
    {
        // R documentation of stats::poisson.test: 137 deaths, 24.19893 expected; 5.661407 (4.753125 to 6.692709).
        var ratio = StandardisedRatio.Estimate(137, 24.19893);
        Data.Near([5.661407, 4.753125, 6.692709], [ratio.Value, ratio.Interval.Lower, ratio.Interval.Upper], 1e-6, "ratio");
    }

    [Fact]
    public void Two_hundred_random_ratios_agree_with_R_by_all_three_methods()
    {
        var cases = Data.Json("ratios.json").EnumerateArray().ToArray();
        Assert.Equal(200, cases.Length);
        foreach (var each in cases)
            foreach (var (name, method, tolerance) in new[]
            {
                ("exact", RatioInterval.Exact, 1e-9), ("mid_p", RatioInterval.MidP, 1e-9), ("byar", RatioInterval.Byar, 1e-12)
            })
            {
                var interval = StandardisedRatio.Estimate(each.GetProperty("observed").GetInt64(),
                    each.Number("expected"), method).Interval;
                Data.Near(each.Numbers(name), [interval.Lower, interval.Upper], tolerance, name);
            }
    }

    [Fact]
    public void Nothing_seen_has_a_lower_limit_of_nothing_and_mid_p_lies_inside_exact()
    {
        foreach (var method in Enum.GetValues<RatioInterval>())
            Assert.Equal(0, StandardisedRatio.Estimate(0, 3, method).Interval.Lower);
        // By hand: exp(-m) / 2 = 0.025 at m = ln 20.
        Assert.Equal(Math.Log(20), StandardisedRatio.Estimate(0, 1, RatioInterval.MidP).Interval.Upper, 10);
        for (var k = 0; k < 60; k++)
        {
            var (exact, mid) = (StandardisedRatio.Estimate(k, 7).Interval, StandardisedRatio.Estimate(k, 7, RatioInterval.MidP).Interval);
            Assert.True(exact.Lower <= mid.Lower && mid.Lower <= k / 7.0 && k / 7.0 <= mid.Upper && mid.Upper < exact.Upper);
        }
    }
}
