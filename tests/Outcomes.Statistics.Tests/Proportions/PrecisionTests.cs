using Outcomes.Statistics;

namespace Outcomes.Tests.Statistics;

public sealed class PrecisionTests
{
    // At 1/2 the half-width is z / (2 √(n + z²)), so that n = z²/(4h²) − z²: 380.3 for 5 points, 92.2 for 10 (by hand, z = 1.959964).
    [Theory]
    [InlineData(0.05, 381)]
    [InlineData(0.10, 93)]
    [InlineData(0.01, 9600)]
    public void At_one_half_it_is_the_closed_form(double halfWidth, long cases) => Assert.Equal(cases, Precision.Cases(0.5, halfWidth));

    // Newcombe 1998, Table I, method 3 (read in a secondary source): 81 of 263 has .2553 to .3662, 5.5 points to either side of its middle.
    [Fact]
    public void A_published_interval_has_the_cases_that_its_width_asks_for() =>
        Assert.InRange(Precision.Cases(81.0 / 263, (0.3662 - 0.2553) / 2), 262, 264);

    [Fact]
    public void The_number_is_the_least_whose_Wilson_interval_is_narrow_enough()
    {
        foreach (var tenths in Enumerable.Range(0, 11))
            foreach (var halfWidth in new[] { 0.02, 0.05, 0.1, 0.2 })
            {
                var cases = Precision.Cases(tenths / 10.0, halfWidth);
                Assert.True(Width(cases) <= (2 * halfWidth) + 1e-12);
                Assert.True(cases == 1 || Width(cases - 1) > (2 * halfWidth) - 1e-12);

                double Width(long n)
                {
                    // The interval as docs/statistics/wilson.md writes it; the function under test asks it of any rate, not only of k/n.
                    var (p, z) = (tenths / 10.0, 1.959963984540054);
                    return 2 * z / (1 + (z * z / n)) * Math.Sqrt((p * (1 - p) / n) + (z * z / (4.0 * n * n)));
                }
            }
    }

    [Fact]
    public void It_is_symmetric_and_asks_most_at_one_half()
    {
        foreach (var rate in new[] { 0.0, 0.05, 0.2, 0.35 })
        {
            Assert.Equal(Precision.Cases(rate, 0.05), Precision.Cases(1 - rate, 0.05));
            Assert.True(Precision.Cases(rate, 0.05) < Precision.Cases(0.5, 0.05));
        }
    }

    [Theory]
    [InlineData(-0.1, 0.05)]
    [InlineData(1.1, 0.05)]
    [InlineData(double.NaN, 0.05)]
    [InlineData(0.5, 0)]
    [InlineData(0.5, 0.5)]
    public void What_is_out_of_range_is_refused(double rate, double halfWidth) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Precision.Cases(rate, halfWidth));
}
