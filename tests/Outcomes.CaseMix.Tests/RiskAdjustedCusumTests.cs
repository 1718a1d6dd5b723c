using Outcomes.CaseMix;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class RiskAdjustedCusumTests
{
    // Steiner SH et al. Biostatistics 2000;1:441-452, page 446: logit of the chance of death −3.68 + 0.077 × Parsonnet score, odds
    // ratio 2 (as other software's tests quote it).
    [Theory]
    [InlineData(0, -0.024, 0.67)]
    [InlineData(50, -0.43, 0.26)]
    public void Weights_of_the_cardiac_surgery_paper(double score, double survived, double died)
    {
        var p = Logit.Chance(-3.68 + (0.077 * score));
        Data.Near([survived, died], [RiskAdjustedCusum.Weight(p, false, 2), RiskAdjustedCusum.Weight(p, true, 2)], 5.01e-3, "weight");
    }

    // Rigdon SE, Fricker RD. Monitoring the Health of Populations, 2015, pages 225-226 (as quoted by other software's tests). The book
    // prints −0.0954 where the formula gives −0.0945: a conflict in the third decimal, so that one is held to 0.01 only.
    [Fact]
    public void Weights_of_the_textbook()
    {
        var p = Logit.Chance(-3.67 + (0.077 * 19));
        Data.Near([-0.0954], [RiskAdjustedCusum.Weight(p, false, 2)], 1e-2, "weight");
        Data.Near([0.5986, 0.05083], [RiskAdjustedCusum.Weight(p, true, 2), RiskAdjustedCusum.Weight(p, false, 0.5)], 5.01e-5, "weight");
        var none = Logit.Chance(-3.67);
        Data.Near([-0.0245, 0.6686],
            [RiskAdjustedCusum.Weight(none, false, 2), RiskAdjustedCusum.Weight(none, true, 2)], 5.01e-5, "weight");
    }

    // With one chance for all it is the Bernoulli CUSUM of Reynolds MR, Stoumbos ZG. J Qual Technol 1999;31:87-108: r1 and r2 by its
    // definition.
    [Theory]
    [InlineData(0.01, 0.02, 0.010152, 0.7033)]
    [InlineData(0.1, 0.2, 0.117783, 0.81093)]
    [InlineData(0.05, 0.1, 0.054067, 0.747214)]
    [InlineData(0.2, 0.3, 0.133531, 0.538997)]
    public void One_chance_for_all_is_the_bernoulli_cusum(double p0, double p1, double r1, double r2)
    {
        var ratio = p1 / (1 - p1) / (p0 / (1 - p0));
        Assert.Equal(-r1, RiskAdjustedCusum.Weight(p0, false, ratio), 5);
        Assert.Equal(r2 - r1, RiskAdjustedCusum.Weight(p0, true, ratio), 5);
    }

    [Fact]
    public void It_never_falls_below_nothing_and_starts_again_after_a_signal()
    {
        var chart = RiskAdjustedCusum.Accumulate([0.5, 0.5, 0.5, 0.5], [false, true, true, true], 2, 0.5);
        // By hand: met adds ln(2 / 1.5) = 0.28768, not met −0.40547.
        Data.Near([0, 0.287682, 0.575364, 0.287682], chart.Values, 1e-6, "value");
        Assert.Equal([2], chart.Signals);
    }

    [Fact]
    public void The_limit_keeps_the_chance_of_a_false_alarm_that_it_was_asked_for()
    {
        double[] chances = [0.05, 0.1, 0.2, 0.4];
        var limit = RiskAdjustedCusum.Limit(chances, 2, 0.05, 300, SplitMix64.Uniform(1), 5_000);
        var uniform = SplitMix64.Uniform(2);
        var alarms = 0;
        for (var run = 0; run < 5_000; run++)
        {
            double[] drawn = [.. Enumerable.Range(0, 300).Select(_ => chances[(int)(uniform() * 4)])];
            if (RiskAdjustedCusum.Accumulate(drawn, [.. drawn.Select(chance => uniform() < chance)], 2, limit).Signals.Length > 0)
                alarms++;
        }

        // Two simulations of 5,000: the standard error of their difference is 0.0044.
        Assert.InRange(alarms / 5_000.0, 0.05 - 0.0132, 0.05 + 0.0132);
    }

    [Fact]
    public void A_limit_for_a_single_record_is_just_above_what_the_chance_allows()
    {
        // By hand: one record of chance 0.3 reaches ln(2/1.3) with chance 0.3. Allowed 0.5: any value above 0 will do; allowed 0.1: it must
        // lie above that value.
        Assert.True(RiskAdjustedCusum.Limit([0.3], 2, 0.1, 1, SplitMix64.Uniform(1)) > Math.Log(2 / 1.3));
        Assert.True(RiskAdjustedCusum.Limit([0.3], 2, 0.5, 1, SplitMix64.Uniform(1)) <= Math.Log(2 / 1.3));
    }
}
