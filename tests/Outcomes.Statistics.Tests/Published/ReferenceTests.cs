using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>
/// Each statistic on a thousand random inputs against SciPy 1.10.1, statsmodels 0.13.5 or R 4.2.2, to 1e-9 of the value. Where a library
/// has another convention the script that makes the table leaves the cell empty and says so.
/// </summary>
public class ReferenceTests
{
    [Fact]
    public void Proportions_equal_statsmodels_and_equations_solved_with_scipy()
    {
        (string, IntervalMethod)[] methods =
        [
            ("wilson", IntervalMethod.Wilson), ("exact", IntervalMethod.ClopperPearson), ("agresti_coull", IntervalMethod.AgrestiCoull),
            ("jeffreys", IntervalMethod.Jeffreys), ("mid_p", IntervalMethod.MidP), ("likelihood", IntervalMethod.Likelihood),
        ];
        var compared = ReferenceTable.Read("proportion").Compare(row => methods.SelectMany(method =>
            Ends(method.Item1, Proportion.Estimate(new(row.Integer("met"), row.Integer("eligible"), 0), method.Item2, row.Level)!)));
        Assert.Equal(12_000, compared);
    }

    [Fact]
    public void The_corrected_score_interval_equals_that_of_R()
    {
        // prop.test leaves out the correction where met is half of eligible: those rows are empty.
        var compared = ReferenceTable.Read("r_proportion").Compare(row =>
            Ends("", Proportion.Estimate(new(row.Integer("met"), row.Integer("eligible"), 0), IntervalMethod.WilsonCorrected, row.Level)!));
        Assert.InRange(compared, 1_900, 2_000);
    }

    [Fact]
    public void Exact_rates_equal_the_gamma_quantiles_of_scipy() => Assert.Equal(2_000, ReferenceTable.Read("rate").Compare(row =>
    {
        var (lower, upper) = ExactPoisson.Interval(row.Integer("events"), row.Number("exposure"), row.Level);
        return [("lower", lower), ("upper", upper)];
    }));

    [Fact]
    public void The_exact_ratio_of_two_rates_equals_poisson_test_of_R() =>
        Assert.Equal(4_000, ReferenceTable.Read("r_rate_ratio").Compare(row =>
        {
            var (first, second) = ((row.Integer("k1"), row.Number("t1")), (row.Integer("k2"), row.Number("t2")));
            var ratio = RateRatio.Exact(first, second, row.Level)!;
            return [("ratio", ratio.Value), ("lower", ratio.Lower), ("upper", ratio.Upper), ("p", RateRatio.PValue(first, second))];
        }, absolute: 0));

    [Fact]
    public void Differences_equal_statsmodels_and_likelihoods_maximised_with_scipy() => Assert.InRange(Pairs(row => [
        .. Ends("newcombe", Difference.Newcombe(row.First, row.Second, row.Level)!),
        .. Ends("agresti_caffo", Difference.AgrestiCaffo(row.First, row.Second, row.Level)!),
        .. Ends("wald", Difference.Wald(row.First, row.Second, row.Level)!), .. Ends("mee", DifferenceScore.Mee(row.First, row.Second,
            row.Level)!), .. Ends("miettinen_nurminen", DifferenceScore.MiettinenNurminen(row.First, row.Second, row.Level)!)]), 9_900,
        10_000);

    [Fact]
    public void Ratios_equal_statsmodels_and_score_equations_solved_with_scipy() => Assert.InRange(Pairs(row => [
        .. EndsOrPoint("katz", RiskRatio.Katz(row.First, row.Second, row.Level)!), .. Ends("woolf",
            OddsRatio.Woolf(row.First, row.Second, row.Level)!), .. Ends("risk_score", RiskRatio.Score(row.First, row.Second, row.Level)!),
        .. Ends("odds_score", OddsRatio.Score(row.First, row.Second, row.Level)!)]), 7_300, 8_000);

    [Fact]
    public void Conditional_odds_ratios_equal_those_of_scipy() => Assert.InRange(Pairs(row =>
    {
        var exact = ConditionalOdds.Exact(row.First, row.Second, row.Level)!;
        return [("exact_odds", exact.Value), .. Ends("exact", exact),
            .. Ends("mid_p", ConditionalOdds.Mid(row.First, row.Second, row.Level)!)];
    }), 4_500, 5_000);

    [Fact]
    public void Fishers_exact_test_equals_that_of_scipy() => Assert.Equal(3_000, Pairs(row =>
    {
        var test = FisherExact.Test(row.First, row.Second)!;
        return [("fisher_two_sided", test.TwoSided), ("fisher_less", test.Less), ("fisher_greater", test.Greater)];
    }));

    [Fact]
    public void Pooled_strata_equal_statsmodels() => Assert.Equal(10_000, ReferenceTable.Read("strata").Compare(row =>
    {
        var strata = Strata(row);
        var odds = MantelHaenszel.OddsRatio(strata, row.Level)!;
        var (test, equal, tarone) = (MantelHaenszel.Test(strata)!, BreslowDay.Test(strata, tarone: false)!, BreslowDay.Test(strata)!);
        return
        [
            ("odds_ratio", odds.Value), ("odds_lower", odds.Lower), ("odds_upper", odds.Upper),
            ("risk_ratio", MantelHaenszel.RiskRatio(strata)!.Value), ("cmh", test.Statistic), ("cmh_p", test.PValue),
            ("breslow_day", equal.Statistic), ("breslow_day_p", equal.PValue), ("tarone", tarone.Statistic), ("tarone_p", tarone.PValue),
        ];
    }));

    [Fact]
    public void Pooled_strata_equal_mantelhaen_test_of_R() => Assert.InRange(ReferenceTable.Read("r_strata").Compare(row =>
    {
        var (odds, test) = (MantelHaenszel.OddsRatio(Strata(row), row.Level)!, MantelHaenszel.Test(Strata(row), corrected: true)!);
        return [("cmh", test.Statistic), ("cmh_p", test.PValue), ("odds_ratio", odds.Value), ("lower", odds.Lower), ("upper", odds.Upper)];
    }), 4_800, 5_000);

    [Fact]
    public void Trend_and_homogeneity_equal_prop_trend_test_and_prop_test_of_R() =>
        Assert.Equal(4_000, ReferenceTable.Read("r_trend").Compare(row =>
        {
            var groups = row.Integers("met").Zip(row.Integers("eligible"), (met, eligible) => new Count(met, eligible, 0)).ToArray();
            var (trend, same) = (Trend.Test(groups, row.Numbers("scores"))!, ChiSquare.Homogeneity(groups)!);
            return [("chi_square", trend.ChiSquare), ("p", trend.PValue), ("homogeneity", same.Statistic), ("homogeneity_p", same.PValue)];
        }));

    [Fact]
    public void Simultaneous_intervals_equal_statsmodels()
    {
        var compared = 0;
        foreach (var cells in ReferenceTable.Read("share").Rows)
        {
            var (counts, level) = (cells[0].Split(' ').Select(long.Parse).ToArray(), ReferenceTable.Number(cells[1]));
            compared += Equal(Goodman.Intervals(counts, level), cells[2], cells[3], cells[0]);
        }
        Assert.Equal(3_494, compared);

        static int Equal(IReadOnlyList<Bounds> actual, string lower, string upper, string counts)
        {
            var (low, high) = (lower.Split(' '), upper.Split(' '));
            for (var i = 0; i < actual.Count; i++)
            {
                Assert.True(Math.Abs(actual[i].Lower - ReferenceTable.Number(low[i])) < 1e-9,
                    $"{counts}: lower end {i} is {actual[i].Lower}, the library gives {low[i]}");
                Assert.True(Math.Abs(actual[i].Upper - ReferenceTable.Number(high[i])) < 1e-9,
                    $"{counts}: upper end {i} is {actual[i].Upper}, the library gives {high[i]}");
            }
            return actual.Count;
        }
    }

    [Fact]
    public void Quantiles_and_their_ranks_equal_numpy_and_scipy() => Assert.Equal(3_000, ReferenceTable.Read("quantile").Compare(row =>
    {
        var values = row.Text("values").Split(' ').Select(pair => pair.Split(':'))
            .Select(pair => (ReferenceTable.Number(pair[0]), long.Parse(pair[1])));
        var quantile = Quantiles.Estimate(values, row.Number("p"), row.Level)!;
        return [("value", quantile.Value), ("lower_rank", quantile.LowerRank), ("upper_rank", quantile.UpperRank)];
    }));

    [Fact]
    public void Mean_deviation_and_interval_equal_numpy_and_scipy() => Assert.Equal(4_000, ReferenceTable.Read("moments").Compare(row =>
    {
        var moments = Moments.Of(row.Numbers("values"));
        var (lower, upper) = moments.MeanInterval(row.Level)!.Value;
        return [("mean", moments.Mean), ("deviation", moments.StandardDeviation!.Value), ("lower", lower), ("upper", upper)];
    }));

    [Fact]
    public void Kappa_equals_statsmodels() => Assert.Equal(6_000, ReferenceTable.Read("kappa").Compare(row =>
    {
        var table = row.Grid("table");
        return Enum.GetValues<KappaWeights>().SelectMany(weights =>
        {
            var (kappa, name) = (Kappa.Estimate(table, weights)!, weights.ToString().ToLowerInvariant());
            return new[] { (name, kappa.Value), (name + "_error", kappa.StandardError) };
        });
    }));

    [Fact]
    public void Power_equals_power_prop_test_of_R() => Assert.Equal(1_000, ReferenceTable.Read("r_power").Compare(row =>
        [("power", TwoProportionPower.Power(row.Number("p1"), row.Number("p2"), row.Integer("n"), row.Level))]));

    private static int Pairs(Func<(Count First, Count Second, double Level), IEnumerable<(string, double)>> compute) =>
        ReferenceTable.Read("pair").Compare(row =>
            compute((new(row.Integer("x1"), row.Integer("n1"), 0), new(row.Integer("x2"), row.Integer("n2"), 0), row.Level)));

    private static (Count, Count)[] Strata(ReferenceTable.Row row) =>
        [.. row.Grid("tables").Select(cell => (new Count(cell[0], cell[0] + cell[1], 0), new Count(cell[2], cell[2] + cell[3], 0)))];

    private static (string, double)[] Ends(string name, Estimate estimate) => Ends(name, estimate.Lower, estimate.Upper);

    private static (string, double)[] Ends(string name, DifferenceEstimate estimate) => Ends(name, estimate.Lower, estimate.Upper);

    private static (string, double)[] Ends(string name, RatioEstimate estimate) => Ends(name, estimate.Lower, estimate.Upper);

    /// <summary>Where the formula's error is 0 the library prints the value as both ends, and this project no interval.</summary>
    private static (string, double)[] EndsOrPoint(string name, RatioEstimate estimate) =>
        estimate.WhyNoInterval == NoInterval.NoError ? Ends(name, estimate.Value, estimate.Value) : Ends(name, estimate);

    private static (string, double)[] Ends(string name, double lower, double upper) =>
        name.Length == 0 ? [("lower", lower), ("upper", upper)] : [($"{name}_lower", lower), ($"{name}_upper", upper)];
}
