using Outcomes.Statistics;

namespace Outcomes.Tests;

public class PoissonDrawTests
{
    [Fact]
    public void Poisson_counts_have_their_mean_and_variance()
    {
        var uniform = SplitMix64.Uniform(9);
        var draw = new PoissonDraw(7.5);
        double[] values = [.. Enumerable.Range(0, 40_000).Select(_ => (double)draw.Next(uniform()))];
        // Four standard errors: √(7.5/40000), and the variance's √((7.5 + 2·7.5²)/40000).
        Assert.Equal(7.5, values.Average(), 0.055);
        Assert.Equal(7.5, values.Select(value => (value - 7.5) * (value - 7.5)).Average(), 0.22);
        Assert.Equal(0, draw.Next(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new PoissonDraw(0));
    }

    [Fact]
    public void A_drawn_count_is_the_first_whose_cumulative_chance_lies_above()
    {
        // Poisson with mean 2: cumulative e^-2 (1, 3, 5, 19/3 ...).
        PoissonDraw draw = new(2);
        var e = Math.Exp(-2);
        Assert.Equal((0, 0, 1, 1, 2, 3),
            (draw.Next(0), draw.Next(e * 0.999), draw.Next(e * 1.001), draw.Next(e * 2.999), draw.Next(e * 3.001), draw.Next(e * 5.001)));
        Assert.Equal(1, draw.Next(e));
        Assert.InRange(draw.Next(1 - 1e-16), 10, 30);
        Assert.Throws<ArgumentOutOfRangeException>("mean", () => new PoissonDraw(700));
    }
}
