using MathNet.Numerics.LinearAlgebra;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>The tails and quantiles that intervals and limits stand on, against sums of terms and closed forms.</summary>
public class TailTests
{
    [Theory]
    [InlineData(1, 0.3)]
    [InlineData(2, 0.5)]
    [InlineData(9, 0.5)]
    [InlineData(12, 0.07)]
    [InlineData(25, 0.4)]
    [InlineData(60, 0.93)]
    public void Binomial_tails_are_sums_of_their_terms(int n, double p)
    {
        var below = 0.0;
        for (var k = 0; k <= n; k++)
        {
            var term = Binomial.Probability(k, n, p);
            Assert.Equal(term, DiscreteTails.Binomial(k, n, p), term * 1e-12);
            Assert.Equal(1 - below, DiscreteTails.BinomialAtLeast(k, n, p), 1e-12);
            below += term;
            Assert.Equal(below, DiscreteTails.BinomialAtMost(k, n, p), Math.Max(below * 1e-12, 1e-300));
            Assert.Equal(below, IncompleteBeta.AtMost(k, n, p, 1 - p), below * 1e-12);
            if (k > 0)
                Assert.Equal(Binomial.AtLeast(k, n, p), IncompleteBeta.AtLeast(k, n, p, 1 - p), Binomial.AtLeast(k, n, p) * 1e-12);
        }
        Assert.Equal((0, 0), (DiscreteTails.Binomial(-1, n, p), DiscreteTails.Binomial(n + 1, n, p)));
        Assert.Equal((0, 1), (DiscreteTails.BinomialAtMost(-1, n, p), DiscreteTails.BinomialAtMost(n, n, p)));
        Assert.Equal((1, 0), (DiscreteTails.BinomialAtLeast(0, n, p), DiscreteTails.BinomialAtLeast(n + 1, n, p)));
    }

    [Theory]
    [InlineData(0.2)]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(17.5)]
    public void Poisson_tails_are_sums_of_their_terms(double mean)
    {
        double below = 0, term = Math.Exp(-mean);
        for (var k = 0; k <= 60; k++)
        {
            var above = 0.0;
            var next = term;
            for (var i = k; i < k + 200; next *= mean / ++i)
                above += next;
            Assert.Equal(above, DiscreteTails.PoissonAtLeast(k, mean), above * 1e-11);
            below += term;
            Assert.Equal(below, DiscreteTails.PoissonAtMost(k, mean), below * 1e-11);
            term *= mean / (k + 1);
        }
        Assert.Equal((0, 1), (DiscreteTails.PoissonAtMost(-1, mean), DiscreteTails.PoissonAtLeast(0, mean)));
        Assert.Equal(1, DiscreteTails.PoissonAtLeast(-1, mean));
    }

    [Fact]
    public void Counts_inside_are_the_outermost_whose_tails_are_not_small()
    {
        foreach (var tail in new[] { 0.001, 0.025, 0.3 })
        {
            foreach (var n in new[] { 1, 2, 7, 30, 90 })
            {
                foreach (var p in new[] { 0.02, 0.35, 0.5, 0.9 })
                {
                    var (least, most) = DiscreteTails.BinomialInside(tail, n, p);
                    Assert.Equal(Enumerable.Range(0, n + 1).First(k => 1 - (k < n ? Binomial.AtLeast(k + 1, n, p) : 0) >= tail - 1e-14),
                        least);
                    Assert.Equal(Enumerable.Range(0, n + 1).Last(k => Binomial.AtLeast(k, n, p) >= tail - 1e-14), most);
                }
            }
            foreach (var mean in new[] { 0.01, 0.6, 3, 12.25, 150 })
            {
                var (least, most) = DiscreteTails.PoissonInside(tail, mean);
                double below = 0, term = Math.Exp(-mean);
                long first = -1, last = 0;
                for (var k = 0; k < 400; k++)
                {
                    // Here below = P(X < k).
                    if (1 - below > tail + 1e-13)
                        last = k;
                    below += term;
                    if (first < 0 && below >= tail)
                        first = k;
                    term *= mean / (k + 1);
                }
                Assert.Equal((first, last), (least, most));
            }
        }
    }

    [Fact]
    public void The_incomplete_beta_function_meets_its_closed_forms()
    {
        // I_p(1, b) = 1 − q^b and I_p(a, 1) = p^a; I_p(a, b) = 1 − I_q(b, a); I_½(a, a) = ½ (DLMF 8.17).
        foreach (var p in new[] { 1e-9, 0.01, 0.3, 0.5, 0.8, 0.999 })
        {
            foreach (var a in new[] { 0.5, 1, 2.5, 40, 3_000 })
            {
                Assert.Equal(Math.Pow(p, a), IncompleteBeta.Lower(a, 1, p, 1 - p), Math.Max(Math.Pow(p, a) * 1e-11, 1e-300));
                Assert.Equal(Math.Pow(1 - p, a), IncompleteBeta.Upper(1, a, p, 1 - p), Math.Max(Math.Pow(1 - p, a) * 1e-11, 1e-300));
                Assert.Equal(1, IncompleteBeta.Lower(a, 7, p, 1 - p) + IncompleteBeta.Upper(a, 7, p, 1 - p), 1e-14);
            }
        }
        Assert.Equal(0.5, IncompleteBeta.Lower(33, 33, 0.5, 0.5), 1e-13);
        Assert.Equal((0, 1), (IncompleteBeta.Lower(3, 4, 0, 1), IncompleteBeta.Lower(3, 4, 1, 0)));
        // I_½(½, ½) is the arcsine law: 2/π asin √p.
        Assert.Equal(2 / Math.PI * Math.Asin(Math.Sqrt(0.3)), IncompleteBeta.Lower(0.5, 0.5, 0.3, 0.7), 1e-13);
    }

    [Fact]
    public void Quantiles_of_beta_and_t_meet_their_closed_forms()
    {
        // Beta(a, 1) has p^(1/a), Beta(1, b) 1 − (1 − p)^(1/b); t with 1 degree is tan, with 2 is (2p − 1) √(2 / (4p(1 − p))).
        foreach (var p in new[] { 1e-6, 0.025, 0.5, 0.9, 0.999 })
        {
            foreach (var a in new[] { 0.5, 1, 3, 60 })
            {
                Assert.Equal(Math.Pow(p, 1 / a), BetaQuantiles.Beta(p, a, 1), Math.Pow(p, 1 / a) * 1e-10);
                Assert.Equal(1 - Math.Pow(1 - p, 1 / a), BetaQuantiles.Beta(p, 1, a), 1e-11);
            }
            // The tool asks for levels of confidence: far below one half the quantile loses digits, which no interval needs.
            if (p < 0.4)
                continue;
            var half = (1 + p) / 2;
            Assert.Equal(Math.Tan(Math.PI * p / 2), BetaQuantiles.StudentTwoSided(p, 1), Math.Tan(Math.PI * p / 2) * 1e-9);
            Assert.Equal(p * Math.Sqrt(2 / (4 * half * (1 - half))), BetaQuantiles.StudentTwoSided(p, 2),
                1e-9 * Math.Sqrt(2 / (4 * half * (1 - half))));
        }
        Assert.Equal(0.5, BetaQuantiles.Beta(0.5, 8, 8), 1e-13);
    }

    [Fact]
    public void A_logistic_fit_of_two_groups_is_their_log_odds_ratio()
    {
        // Woolf 1955: log odds ratio with variance 1/a + 1/b + 1/c + 1/d; no degree of freedom is left, so nothing is unexplained.
        var design = Matrix<double>.Build.DenseOfArray(new double[,] { { 1, 0 }, { 1, 1 } });
        var fit = GroupedLogistic.Fit(design, [12, 25], [40, 50])!;
        Assert.Equal(Math.Log(12 / 28.0), fit.Coefficients[0], 1e-10);
        Assert.Equal(Math.Log(25 / 25.0 / (12 / 28.0)), fit.Coefficients[1], 1e-10);
        Assert.Equal((1 / 12.0) + (1 / 28.0), fit.Covariance[0, 0], 1e-10);
        Assert.Equal((1 / 12.0) + (1 / 28.0) + (2 / 25.0), fit.Covariance[1, 1], 1e-10);
        Assert.Equal(-((1 / 12.0) + (1 / 28.0)), fit.Covariance[0, 1], 1e-10);
        Assert.Equal((0, 0), (fit.Degrees, Math.Round(fit.Pearson, 12)));
    }

    [Fact]
    public void A_logistic_fit_without_a_slope_leaves_pearsons_chi_square()
    {
        var design = Matrix<double>.Build.Dense(3, 1, 1);
        Count[] groups = [new(4, 20, 0), new(9, 30, 0), new(12, 25, 0)];
        var fit = GroupedLogistic.Fit(design, [.. groups.Select(group => (double)group.Met)],
            [.. groups.Select(group => (double)group.Eligible)])!;
        Assert.Equal(ChiSquare.Homogeneity(groups)!.Statistic, fit.Pearson, 1e-10);
        Assert.Equal(2, fit.Degrees);
        Assert.Equal(Math.Log(25 / 50.0), fit.Coefficients[0], 1e-12);
        Assert.Equal(1 / (75 * (1 / 3.0) * (2 / 3.0)), fit.Covariance[0, 0], 1e-12);
    }

    [Fact]
    public void What_no_logistic_model_can_answer_has_no_fit()
    {
        var design = Matrix<double>.Build.DenseOfArray(new double[,] { { 1, 0 }, { 1, 1 } });
        Assert.Null(GroupedLogistic.Fit(design, [0, 0], [4, 5]));
        Assert.Null(GroupedLogistic.Fit(design, [4, 5], [4, 5]));
        // Separated: the odds ratio has no end; the same column twice has no answer; more columns than rows neither.
        Assert.Null(GroupedLogistic.Fit(design, [0, 5], [4, 5]));
        Assert.Null(GroupedLogistic.Fit(Matrix<double>.Build.Dense(4, 2, 1), [1, 2, 3, 2], [4, 5, 6, 4]));
        Assert.Null(GroupedLogistic.Fit(Matrix<double>.Build.Dense(1, 2, 1), [1], [4]));
        Assert.NotNull(GroupedLogistic.Fit(design, [1, 4], [4, 5]));
    }

    [Fact]
    public void A_beta_prior_is_where_the_likelihood_is_greatest()
    {
        // Griffiths 1973: the beta-binomial likelihood, written out here, falls from the fit in every direction.
        Count[] counts = [new(2, 20, 0), new(9, 20, 0), new(1, 10, 0), new(14, 30, 0), new(3, 25, 0), new(0, 0, 5)];
        var prior = BetaBinomial.Fit([.. counts]);
        Assert.InRange(prior.Spread, 0.02, 0.5);
        var best = BruteForce.LogLikelihood(counts, prior.Mean, prior.Spread);
        foreach (var (mean, spread) in new[] { (1e-4, 0.0), (-1e-4, 0), (0, 1e-4), (0, -1e-4), (0.05, 0), (0, 0.05), (-0.02, 0.01) })
            Assert.True(BruteForce.LogLikelihood(counts, prior.Mean + mean, prior.Spread + spread) < best);
        // Groups as alike as chance makes them: no spread, and the mean is that of all records.
        Assert.Equal(new BetaPrior(0.3, 0), BetaBinomial.Fit([new(3, 10, 0), new(6, 20, 0)]));
    }

    [Fact]
    public void A_shrunken_group_has_the_mean_and_the_quantiles_of_its_own_beta()
    {
        GroupCount[] groups = [new("A", new(2, 20, 0)), new("B", new(9, 20, 0)), new("C", new(14, 30, 0)), new("D", default)];
        var shrunk = BetaBinomial.Shrink([.. groups], 0.9);
        var (mean, spread) = (shrunk.Prior.Mean, shrunk.Prior.Spread);
        foreach (var (group, estimate) in groups.Zip(shrunk.Groups))
        {
            double a = (mean / spread) + group.Count.Met, b = ((1 - mean) / spread) + group.Count.Eligible - group.Count.Met;
            Assert.Equal(a / (a + b), estimate.Value, 1e-12);
            Assert.Equal(0.05, IncompleteBeta.Lower(a, b, estimate.Within!.Value.Lower, 1 - estimate.Within.Value.Lower), 1e-9);
            Assert.Equal(0.95, IncompleteBeta.Lower(a, b, estimate.Within.Value.Upper, 1 - estimate.Within.Value.Upper), 1e-9);
        }
    }
}
