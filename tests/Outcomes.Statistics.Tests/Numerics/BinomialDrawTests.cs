using Outcomes.Statistics;

namespace Outcomes.Tests;

public class BinomialDrawTests
{
    [Theory]
    [InlineData(1, 0.5)]
    [InlineData(12, 0.8)]
    [InlineData(40, 0.05)]
    [InlineData(200, 0.97)]
    [InlineData(7, 0)]
    [InlineData(7, 1)]
    public void Is_the_quantile_of_the_binomial_distribution(int n, double rate)
    {
        var draw = new BinomialDraw(n, rate);
        var cumulative = 0.0;
        for (var k = 0; k <= n; k++)
        {
            var probability = Binomial.Probability(k, n, rate);
            // The middle of the step from P(less than k) to P(at most k) gives k, where the step is wide enough to be met.
            if (probability > 1e-12)
                Assert.Equal((double)k / n, draw.Next(cumulative + (probability / 2)));
            cumulative += probability;
        }
    }

    [Fact]
    public void Large_denominators_keep_their_mean_and_spread()
    {
        const int steps = 100_000;
        var draw = new BinomialDraw(40_000, 0.03);
        var values = Enumerable.Range(0, steps).Select(i => draw.Next((i + 0.5) / steps)).ToArray();
        Assert.Equal(0.03, values.Average(), 1e-7);
        Assert.Equal(Math.Sqrt(0.03 * 0.97 / 40_000), Math.Sqrt(values.Average(value => Math.Pow(value - 0.03, 2))), 1e-6);
    }
}
