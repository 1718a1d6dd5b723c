using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Edges of estimates that mutation testing found untested; values by hand or by other formulas, as each test says.</summary>
public class EstimateEdgeTests
{
    [Fact]
    public void Quantile_ends_are_the_order_statistics_that_the_binomial_gives()
    {
        // Median of 10 values at 95 %: second and ninth, coverage 1 − 2 · 11/1024 (Conover's table, and by hand).
        var ten = Quantiles.Estimate(Enumerable.Range(1, 10).Select(i => ((double)i, 1L)))!;
        Assert.Equal((5.5, 2, 9, 2, 9, 10), (ten.Value, ten.Lower, ten.Upper, ten.LowerRank, ten.UpperRank, ten.N));
        Assert.Equal(1 - (22 / 1024.0), ten.Coverage, 1e-14);
        // Five values bound no median at 95 %, six do, with 1 − 2/64.
        var five = Quantiles.Estimate([(1, 2), (2, 1), (7, 2)])!;
        Assert.Equal((2, null, null, 0, 6, 1), (five.Value, five.Lower, five.Upper, five.LowerRank, five.UpperRank, five.Coverage));
        var six = Quantiles.Estimate([(1, 2), (2, 2), (7, 2)])!;
        Assert.Equal((2, 1, 7, 1, 6), (six.Value, six.Lower, six.Upper, six.LowerRank, six.UpperRank));
        Assert.Equal(1 - (2 / 64.0), six.Coverage, 1e-14);
        // The ninth decile of 10 has a lower end only: P(X < 7) = 0.0128 (a table of the binomial), none above.
        var high = Quantiles.Estimate(Enumerable.Range(1, 10).Select(i => ((double)i, 1L)), 0.9)!;
        Assert.Equal((7, null, 11), (high.Lower, high.Upper, high.UpperRank));
        Assert.Equal(1 - 0.0127951984, high.Coverage, 1e-9);
        var low = Quantiles.Estimate(Enumerable.Range(1, 10).Select(i => ((double)i, 1L)), 0.1)!;
        Assert.Equal((null, 4, 0), (low.Lower, low.Upper, low.LowerRank));
        // A tail met to the digit counts as inside: P(X < 1) = ¼ for two values and level ½.
        Assert.Equal((1, 2), Quantiles.Estimate([(4, 1), (9, 1)], 0.5, 0.5) is { } two ? (two.LowerRank, two.UpperRank) : default);
        Assert.Equal(4, Quantiles.Find([(4, 3), (9, 1), (100, 0)], 0.5));
    }

    [Theory]
    [InlineData(KappaWeights.None)]
    [InlineData(KappaWeights.Linear)]
    [InlineData(KappaWeights.Quadratic)]
    public void Weighted_agreement_is_one_less_the_weighted_disagreement(KappaWeights weights)
    {
        // Cohen 1968: 1 − Σ v o / Σ v e with disagreement v 1, |i − j| or (i − j)², whose scale cancels.
        long[][] table = [[20, 5, 1], [4, 15, 6], [2, 3, 14]];
        double total = 70, seen = 0, chance = 0;
        for (var i = 0; i < 3; i++)
        {
            for (var j = 0; j < 3; j++)
            {
                var v = weights switch
                {
                    KappaWeights.None => i == j ? 0 : 1,
                    KappaWeights.Linear => Math.Abs(i - j),
                    _ => (i - j) * (i - j)
                };
                seen += v * table[i][j] / total;
                chance += v * table[i].Sum() * table.Sum(row => row[j]) / (total * total);
            }
        }
        var kappa = Kappa.Estimate(table, weights, 0.9)!;
        Assert.Equal(1 - (seen / chance), kappa.Value, 1e-14);
        Assert.Equal((kappa.Value - (1.6448536269514722 * kappa.StandardError), kappa.Value + (1.6448536269514722 * kappa.StandardError)),
            (kappa.Lower, kappa.Upper), Near);
        var scale = weights switch { KappaWeights.None => 1.0, KappaWeights.Linear => 2, _ => 4 };
        Assert.Equal(1 - (seen / scale), kappa.Observed, 1e-14);
        Assert.Equal(1 - (chance / scale), kappa.Expected, 1e-14);
        Assert.Equal(70, kappa.N);
    }

    [Fact]
    public void Agreement_of_few_keeps_its_ends_within_minus_1_and_1()
    {
        Assert.Equal(1, Kappa.Estimate([[3, 1], [0, 1]])!.Upper);
        Assert.Equal(-1, Kappa.Estimate([[0, 2], [2, 1]])!.Lower);
    }

    [Fact]
    public void A_trend_is_that_of_the_formula_written_out()
    {
        // Armitage 1955 by hand: 2/10, 5/10, 9/10 with scores 0, 1, 3; a group without records changes nothing.
        double[] scores = [0, 1, 3];
        long[] met = [2, 5, 9];
        double p = 16 / 30.0, mean = 4 / 3.0;
        var sum = scores.Select((score, i) => met[i] * (score - mean)).Sum();
        var spread = scores.Sum(score => 10 * (score - mean) * (score - mean));
        var trend = Trend.Test([new(2, 10, 0), new(5, 10, 0), new(9, 10, 0), new(0, 0, 4)], [0, 1, 3, 70])!;
        Assert.Equal(sum / Math.Sqrt(p * (1 - p) * spread), trend.Z, 1e-12);
        Assert.Equal(sum / spread, trend.Slope, 1e-14);
        Assert.Null(Trend.Test([new(2, 10, 0), new(5, 10, 0)], [1, 1]));
        Assert.Null(Trend.Test([new(2, 10, 0), new(0, 0, 0)], [1, 2]));
        Assert.NotNull(Trend.Test([new(2, 10, 0), new(5, 10, 0)], [5, 6]));
        Assert.NotNull(Trend.Test([new(2, 10, 0), new(5, 10, 0)], [0, 1]));
    }

    [Fact]
    public void Shrinking_moves_every_value_by_one_share_towards_the_mean()
    {
        // Efron and Morris 1977: c = 1 − (k − 3) σ² / Σ (x − mean)², and mean + c (x − mean). By hand: mean 5, sum of squares 20, c = 1 − 2
        // · 4 / 20.
        var shrunk = JamesStein.Shrink([2, 4, 5, 6, 8], 4);
        Assert.Equal((5, 0.6), (shrunk.Mean, shrunk.Factor));
        Assert.Equal([3.2, 4.4, 5, 5.6, 6.8], shrunk.Values, (one, other) => Math.Abs(one - other) < 1e-12);
    }

    [Fact]
    public void Segments_doubt_few_months_and_few_events_on_each_side()
    {
        Series Months(int before, int after, long met = 5, long eligible = 10) =>
            new(2024, 1, [.. Enumerable.Repeat(new Count(met, eligible, 0), before + after)]);
        Assert.Empty(SegmentedRegression.Fit(Months(8, 8), 8).Doubts);
        Assert.Equal([SegmentedDoubt.FewMonths], SegmentedRegression.Fit(Months(7, 9), 7).Doubts);
        Assert.Equal([SegmentedDoubt.FewMonths], SegmentedRegression.Fit(Months(9, 7), 9).Doubts);
        // Ten events on each side are enough, eight are not; so it is with those that did not happen.
        Assert.Empty(SegmentedRegression.Fit(Months(10, 10, 1, 10), 10).Doubts);
        Assert.Equal([SegmentedDoubt.FewEvents], SegmentedRegression.Fit(Months(8, 10, 1, 10), 8).Doubts);
        Assert.Equal([SegmentedDoubt.FewEvents], SegmentedRegression.Fit(Months(8, 10, 9, 10), 8).Doubts);
        Assert.Equal([SegmentedDoubt.FewEvents], SegmentedRegression.Fit(Months(10, 8, 9, 10), 10).Doubts);
        // Four months leave no degree of freedom, five leave one.
        Assert.Contains(SegmentedDoubt.NoAnswer,
            SegmentedRegression.Fit(new(2024, 1, [new(3, 10, 0), new(5, 10, 0), new(4, 10, 0), new(6, 10, 0)]), 2).Doubts);
        Assert.NotNull(
            SegmentedRegression.Fit(new(2024, 1, [new(3, 10, 0), new(5, 10, 0), new(4, 10, 0), new(6, 10, 0), new(5, 10, 0)]), 2).Level);
    }

    [Fact]
    public void An_interval_of_a_difference_tests_at_its_own_ends()
    {
        // Mee 1984: at an end the score (d − δ) / √(p₁q₁/n₁ + p₂q₂/n₂) is ±z, with the likeliest p₂ at that δ found here by search in
        // thirds.
        foreach (var (x1, n1, x2, n2) in new[]
        {
            (7L, 10L, 2L, 10L), (1, 12, 0, 9), (0, 5, 5, 5), (29, 30, 14, 15), (3, 40, 3, 40), (5, 6, 5, 6)
        })
        {
            var estimate = DifferenceScore.Mee(new(x1, n1, 0), new(x2, n2, 0))!;
            foreach (var delta in new[] { estimate.Lower, estimate.Upper })
            {
                if (Math.Abs(delta) == 1)
                    continue;
                double least = Math.Max(0, -delta), most = Math.Min(1, 1 - delta);
                for (var step = 0; step < 300; step++)
                {
                    double one = least + ((most - least) / 3), two = most - ((most - least) / 3);
                    (least, most) = Likelihood(one) < Likelihood(two) ? (one, most) : (least, two);
                }
                var p2 = (least + most) / 2;
                var p1 = Math.Clamp(p2 + delta, 0, 1);
                var score = (estimate.Value - delta) / Math.Sqrt((p1 * (1 - p1) / n1) + (p2 * (1 - p2) / n2));
                Assert.Equal(1.959963984540054, Math.Abs(score), 1e-6);

                double Likelihood(double p) => Part(x1, p + delta) + Part(n1 - x1, 1 - p - delta) + Part(x2, p) + Part(n2 - x2, 1 - p);
            }
        }
        static double Part(long k, double p) => k == 0 ? 0 : k * Math.Log(Math.Max(p, 1e-300));
    }

    private static bool Near((double, double) one, (double, double) other) =>
        Math.Abs(one.Item1 - other.Item1) < 1e-12 && Math.Abs(one.Item2 - other.Item2) < 1e-12;
}
