using Outcomes.Statistics;

namespace Outcomes.Tests;

public class NormalTests
{
    [Theory]
    // Two-sided points of the standard normal distribution, as in any printed table (common practice).
    [InlineData(0.80, 1.2816)]
    [InlineData(0.90, 1.6449)]
    [InlineData(0.95, 1.9600)]
    [InlineData(0.99, 2.5758)]
    [InlineData(0.999, 3.2905)]
    public void Quantiles_are_those_of_printed_tables(double level, double z) => Assert.Equal(z, Normal.TwoSided(level), 5e-5);

    [Fact]
    public void The_constant_for_95_percent_is_what_the_library_computes() =>
        Assert.Equal(MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, 0.975), Normal.TwoSided(0.95), 1e-14);
}
