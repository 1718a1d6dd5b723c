using Outcomes.CaseMix;
using Outcomes.Statistics;

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

    [Fact]
    public void An_expected_number_that_is_itself_a_count_has_the_limits_of_two_poisson_counts()
    {
        // R: poisson.test(c(observed, count), c(expected, count)). A count of m has the standard error √m, a part 1/√m of itself.
        var cases = Data.Json("ratios_model.json").EnumerateArray().ToArray();
        Assert.Equal(60, cases.Length);
        foreach (var each in cases)
        {
            var (observed, expected, count) = (each.GetProperty("observed").GetInt64(), each.Number("expected"), each.Number("count"));
            var ratio = StandardisedRatio.EstimateWithError(observed, expected, expected / Math.Sqrt(count));
            Data.Near(each.Numbers("interval"), [ratio.Interval.Lower, ratio.Interval.Upper], 1e-8, "limit");
            Assert.Equal(observed / expected, ratio.Value, 12);
            // The project's own exact interval of two rates, from its beta quantiles.
            var own = RateRatio.Exact((observed, expected), ((long)count, count))!;
            Data.Near([own.Lower, own.Upper], [ratio.Interval.Lower, ratio.Interval.Upper], 1e-9, "limit");
        }
    }

    [Fact]
    public void Without_error_the_interval_is_the_exact_one_and_it_widens_with_the_error()
    {
        foreach (var observed in new long[] { 0, 1, 7, 40 })
        {
            var exact = StandardisedRatio.Estimate(observed, 9.3);
            Assert.Equal(exact.Interval, StandardisedRatio.EstimateWithError(observed, 9.3, 0).Interval);
            var before = exact.Interval;
            foreach (var error in new[] { 0.001, 0.01, 0.1, 1, 3, 9 })
            {
                var interval = StandardisedRatio.EstimateWithError(observed, 9.3, error).Interval;
                Assert.True(interval.Lower <= before.Lower && interval.Upper > before.Upper, $"{observed}, {error}: {interval}");
                before = interval;
            }

            var almost = StandardisedRatio.EstimateWithError(observed, 9.3, 0.001).Interval;
            Data.Near([exact.Interval.Lower, exact.Interval.Upper], [almost.Lower, almost.Upper], 1e-5, "limit");
        }

        Assert.Throws<ArgumentOutOfRangeException>(() => StandardisedRatio.EstimateWithError(3, 2, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => StandardisedRatio.EstimateWithError(3, 2, double.NaN));
    }
}
