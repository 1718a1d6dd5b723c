using CsCheck;
using MathNet.Numerics;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ExactPoissonTests
{
    private const string File = "poisson_rate.json";

    public static TheoryData<string> Published => Check.Ids(File);

    [Theory]
    [MemberData(nameof(Published))]
    public void Equals_the_published_limits(string id)
    {
        var check = Check.Find(File, id);
        var (lower, upper) = ExactPoisson.Interval(check.Integer("events"), check.Inputs["exposure"]!.GetValue<double>());
        check.Holds(("lower", lower), ("upper", upper));
    }

    [Fact]
    public void Each_end_leaves_exactly_half_of_alpha_in_a_Poisson_tail()
    {
        foreach (var level in new[] { 0.8, 0.95, 0.999999 })
            for (var k = 0; k <= 60; k++)
            {
                var (lower, upper) = ExactPoisson.Interval(k, 1, level);
                var tail = (1 - level) / 2;
                if (k > 0) Assert.Equal(1, (1 - AtMost(k - 1, lower)) / tail, 1e-7);
                Assert.Equal(1, AtMost(k, upper) / tail, 1e-9);
            }
    }

    [Fact]
    public void Lies_in_order_and_scales_with_the_exposure() =>
        Gen.Select(Gen.Long[0, 1_000_000], Gen.Double[0.001, 1e6]).Sample((k, exposure) =>
        {
            var (lower, upper) = ExactPoisson.Interval(k, exposure);
            var one = ExactPoisson.Interval(k, 1);
            Assert.True(lower >= 0 && lower <= k / exposure && k / exposure <= upper);
            Assert.Equal(one.Lower / exposure, lower, 1e-12 * upper);
            Assert.Equal(one.Upper / exposure, upper, 1e-12 * upper);
        });

    [Fact]
    public void A_million_events_are_nearly_normal() =>
        // Common practice: k ± 1.96 √k, with the known shift of about (z² + 2)/3 below the next order.
        Assert.InRange(ExactPoisson.Interval(1_000_000, 1).Upper, 1_001_960, 1_001_964);

    [Fact]
    public void An_input_out_of_range_is_named()
    {
        Assert.Throws<ArgumentOutOfRangeException>("events", () => ExactPoisson.Interval(-1, 1));
        Assert.Throws<ArgumentOutOfRangeException>("exposure", () => ExactPoisson.Interval(1, 0));
        Assert.Throws<ArgumentOutOfRangeException>("exposure", () => ExactPoisson.Interval(1, double.NaN));
    }

    private static double AtMost(int k, double mean) =>
        Enumerable.Range(0, k + 1).Sum(i => Math.Exp((i * Math.Log(mean)) - mean - SpecialFunctions.FactorialLn(i)));
}
