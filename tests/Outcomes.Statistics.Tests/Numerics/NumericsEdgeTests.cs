using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Small functions that the estimates stand on, at the edges of what numbers can hold.</summary>
public class NumericsEdgeTests
{
    [Fact]
    public void Logarithms_of_nearly_1_keep_their_digits()
    {
        // ln(1 + x) = x − x²/2 + x³/3 and e^x − 1 = x + x²/2 + x³/6 to 16 digits for |x| below 1e-5.
        foreach (var x in new[] { 1e-5, -1e-5, 3e-9, -3e-9, 1e-17, 0 })
        {
            Assert.Equal(x - (x * x / 2) + (x * x * x / 3), SmallNumbers.LogOnePlus(x), Math.Abs(x) * 1e-15);
            Assert.Equal(x + (x * x / 2) + (x * x * x / 6), SmallNumbers.ExpMinusOne(x), Math.Abs(x) * 1e-15);
        }
        Assert.Equal(Math.Log(3), SmallNumbers.LogOnePlus(2), 1e-15);
        Assert.Equal(Math.E - 1, SmallNumbers.ExpMinusOne(1), 1e-15);
        Assert.Equal(-1, SmallNumbers.ExpMinusOne(-50));
        Assert.Equal(-1, SmallNumbers.ExpMinusOne(double.NegativeInfinity));
    }

    [Fact]
    public void A_proportion_of_far_log_odds_neither_overflows_nor_loses_digits()
    {
        Assert.Equal((0.5, 1, 0), (LogOdds.Proportion(0), LogOdds.Proportion(800), LogOdds.Proportion(-800)));
        Assert.Equal(Math.Exp(-40), LogOdds.Proportion(-40), 1e-30);
        Assert.Equal(0.8, LogOdds.Proportion(Math.Log(4)), 1e-15);
        Assert.Equal(0.2, LogOdds.Proportion(-Math.Log(4)), 1e-15);
    }

    [Fact]
    public void A_root_is_found_from_any_start_and_on_the_edge_of_the_search()
    {
        foreach (var start in new[] { -30.0, 0, 2, 30 })
        {
            Assert.Equal(3, LogOdds.Find(t => Math.Exp(t / 9) - Math.Exp(3 / 9.0), start), 1e-10);
            Assert.Equal(3, LogOdds.Find(t => 3 - t, start), 1e-10);
        }
        Assert.Equal((1.5, 2.5), (LogOdds.Find(t => t - 1.5, 2), LogOdds.Find(t => t - 2.5, 2)));
        Assert.Equal(0.3, LogOdds.Root((p, q) => p - (0.3 * (p + q)), 0.001), 1e-12);
        Assert.Equal(0.3, LogOdds.Root((p, q) => p - (0.3 * (p + q)), 1), 1e-12);
    }

    [Fact]
    public void Chances_of_a_binomial_term_meet_the_product_written_out()
    {
        // C(n, k) p^k q^(n−k) by multiplication, for n that use Stirling's series and n that do not, near the mean and far from it.
        foreach (var n in new[] { 1, 5, 15, 16, 17, 33, 100 })
        {
            foreach (var p in new[] { 0.01, 0.3, 0.5, 0.7, 0.99 })
            {
                for (var k = 0; k <= n; k++)
                {
                    var product = 1.0;
                    for (var i = 1; i <= k; i++)
                        product *= (n - k + i) / (double)i * p;
                    product *= Math.Pow(1 - p, n - k);
                    Assert.Equal(product, BinomialTerm.Of(k, n, p, 1 - p), product * 1e-13);
                }
            }
        }
        Assert.Equal((0, 0), (BinomialTerm.Of(2, 5, 0, 1), BinomialTerm.Of(2, 5, 1, 0)));
        Assert.Equal((1, 1), (BinomialTerm.Of(0, 5, 0, 1), BinomialTerm.Of(5, 5, 1, 0)));
        // Poisson: e^−m m^k / k! for k = 20 and mean 17.
        var poisson = Math.Exp(-17);
        for (var i = 1; i <= 20; i++)
            poisson *= 17.0 / i;
        Assert.Equal(Math.Log(poisson), BinomialTerm.PoissonLog(20, 17), 1e-13);
    }
}
