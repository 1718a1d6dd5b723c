using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Every expected value of the estimates' files in tests/fixtures/statistics, each with its source and provenance.</summary>
public class PublishedTests
{
    private static readonly string[] Files =
    [
        "proportion.json", "rates.json", "two_groups.json", "strata.json", "trend.json", "kappa.json", "power.json", "shares.json",
        "quantiles.json", "moments.json"
    ];

    public static TheoryData<string, string> Values =>
        [.. Files.SelectMany(file => Check.Read(file).Select(check => new TheoryDataRow<string, string>(file, check.Id)))];

    [Theory]
    [MemberData(nameof(Values))]
    public void Equals_the_published_or_recomputed_value(string file, string id)
    {
        var check = Check.Find(file, id);
        Assert.False(string.IsNullOrWhiteSpace(check.Source + check.Provenance + check.Status));
        check.Holds([.. Actual(check)]);
    }

    private static IEnumerable<(string, double)> Actual(Check check)
    {
        var level = check.Inputs["level"]?.GetValue<double>() ?? 0.95;
        return OfOneProportion(check, level) ?? OfTwoGroups(check) ?? OfTables(check, level)
            ?? throw new InvalidOperationException($"{check.Id}: no function for {check.Statistic}");
    }

    private static IEnumerable<(string, double)>? OfOneProportion(Check check, double level)
    {
        return check.Statistic switch
        {
            "wald" when check.Inputs.ContainsKey("met") => Ends(Wald.Uncut(check.Integer("met"), check.Integer("eligible"), level, 0)),
            "wald_cc" => Ends(Wald.Uncut(check.Integer("met"), check.Integer("eligible"), level, 0.5)),
            "agresti_coull" => Ends(AgrestiCoull.Uncut(check.Integer("met"), check.Integer("eligible"), level)),
            "wilson" => One(IntervalMethod.Wilson),
            "clopper_pearson" => One(IntervalMethod.ClopperPearson),
            "wilson_cc" => One(IntervalMethod.WilsonCorrected),
            "mid_p" => One(IntervalMethod.MidP),
            "jeffreys" => One(IntervalMethod.Jeffreys),
            "likelihood" => One(IntervalMethod.Likelihood),
            _ => null,
        };

        IEnumerable<(string, double)> One(IntervalMethod method)
        {
            var estimate = Proportion.Estimate(new(check.Integer("met"), check.Integer("eligible"), 0), method, level)!;
            return [("value", estimate.Value), .. Ends(new(estimate.Lower, estimate.Upper))];
        }
    }

    private static IEnumerable<(string, double)>? OfTwoGroups(Check check)
    {
        return check.Statistic switch
        {
            "rate_ratio_exact" =>
                [.. Of(RateRatio.Exact(Rate("first"), Rate("second"))!), ("p", RateRatio.PValue(Rate("first"), Rate("second")))],
            "difference_wald" => Of(Difference.Wald(First(), Second())!),
            "newcombe_cc" => Of(Difference.NewcombeCorrected(First(), Second())!),
            "agresti_caffo" => Of(Difference.AgrestiCaffo(First(), Second())!),
            "mee" => Of(DifferenceScore.Mee(First(), Second())!),
            "miettinen_nurminen" => Of(DifferenceScore.MiettinenNurminen(First(), Second())!),
            "katz" => Of(RiskRatio.Katz(First(), Second())!),
            "risk_ratio_score" => Of(RiskRatio.Score(First(), Second())!),
            "woolf" => Of(OddsRatio.Woolf(First(), Second())!),
            "gart" => Of(OddsRatio.Gart(First(), Second())!),
            "odds_ratio_score" => Of(OddsRatio.Score(First(), Second())!),
            "odds_ratio_mid_p" => Of(ConditionalOdds.Mid(First(), Second())!),
            "odds_ratio_exact" => Of(ConditionalOdds.Exact(First(), Second())!),
            "odds_ratio_exact_90" => Of(ConditionalOdds.Exact(First(), Second(), 0.9)!),
            "fisher" => Fisher(FisherExact.Test(First(), Second())!),
            _ => null,
        };

        Count First() => Group(check.Inputs["first"]!);

        Count Second() => Group(check.Inputs["second"]!);

        (long, double) Rate(string name) =>
            (check.Inputs[name]!["events"]!.GetValue<long>(), check.Inputs[name]!["exposure"]!.GetValue<double>());
    }

    private static IEnumerable<(string, double)>? OfTables(Check check, double level)
    {
        var inputs = check.Inputs;
        return check.Statistic switch
        {
            "mantel_haenszel" =>
                Strata([.. inputs["strata"]!.AsArray().Select(stratum => (Group(stratum!["first"]!), Group(stratum["second"]!)))]),
            "trend" => Ordered([.. inputs["groups"]!.AsArray().Select(group => Group(group!))],
                [.. inputs["scores"]!.AsArray().Select(score => score!.GetValue<double>())]),
            "kappa" => Agreement(Kappa.Estimate(
                [.. inputs["table"]!.AsArray().Select(row => (IReadOnlyList<long>)Integers(row!))],
                Enum.Parse<KappaWeights>(inputs["weights"]!.GetValue<string>(), ignoreCase: true))!),
            "power" => Power(level),
            "goodman" => Shares(Goodman.Intervals(Integers(inputs["counts"]!), level)),
            "quantile" => Quantile(Quantiles.Estimate(Enumerable.Range(1, (int)check.Integer("n")).Select(i => ((double)i, 1L)),
                inputs["p"]!.GetValue<double>(), level)!),
            "moments" => Spread(inputs),
            _ => null,
        };

        IEnumerable<(string, double)> Power(double sure)
        {
            var (first, second) = (inputs["first"]!.GetValue<double>(), inputs["second"]!.GetValue<double>());
            return inputs["per_group"] is { } n
                ? [("power", TwoProportionPower.Power(first, second, n.GetValue<double>(), sure))]
                : [
                    ("n", TwoProportionPower.PerGroup(first, second, inputs["power"]!.GetValue<double>(), sure)),
                    ("n_corrected", TwoProportionPower.PerGroup(first, second, inputs["power"]!.GetValue<double>(), sure, corrected: true)),
                ];
        }
    }

    private static IEnumerable<(string, double)> Ends(Bounds bounds) =>
        [("lower", bounds.Lower), ("upper", bounds.Upper), ("lower_below_zero", bounds.Lower < 0 ? 1 : 0)];

    private static IEnumerable<(string, double)> Of(RatioEstimate ratio) => [
        ("value", ratio.Value), ("lower", ratio.Lower), ("upper", ratio.Upper)
    ];

    private static IEnumerable<(string, double)> Of(DifferenceEstimate estimate) => [
        ("value", estimate.Value), ("lower", estimate.Lower), ("upper", estimate.Upper)
    ];

    private static IEnumerable<(string, double)> Fisher(FisherResult result) =>
        [("two_sided", result.TwoSided), ("mid_p", result.TwoSidedMidP), ("less", result.Less), ("greater", result.Greater)];

    private static IEnumerable<(string, double)> Strata((Count First, Count Second)[] strata)
    {
        var (odds, risk, difference) =
            (MantelHaenszel.OddsRatio(strata)!, MantelHaenszel.RiskRatio(strata)!, MantelHaenszel.Difference(strata)!);
        var (plain, corrected) = (MantelHaenszel.Test(strata)!, MantelHaenszel.Test(strata, corrected: true)!);
        var (breslowDay, tarone) = (BreslowDay.Test(strata, tarone: false)!, BreslowDay.Test(strata)!);
        return
        [
            ("or", odds.Value), ("or_lower", odds.Lower), ("or_upper", odds.Upper),
            ("rr", risk.Value), ("rr_lower", risk.Lower), ("rr_upper", risk.Upper),
            ("rd", difference.Value), ("rd_lower", difference.Lower), ("rd_upper", difference.Upper),
            ("cmh", plain.Statistic), ("cmh_p", plain.PValue), ("cmh_corrected", corrected.Statistic),
            ("cmh_corrected_p", corrected.PValue), ("breslow_day", breslowDay.Statistic), ("tarone", tarone.Statistic),
            ("tarone_p", tarone.PValue), ("degrees", tarone.DegreesOfFreedom),
        ];
    }

    private static IEnumerable<(string, double)> Ordered(Count[] groups, double[] scores)
    {
        var (trend, same) = (Trend.Test(groups, scores)!, ChiSquare.Homogeneity(groups)!);
        return [("z", trend.Z), ("chi_square", trend.ChiSquare), ("p", trend.PValue), ("homogeneity", same.Statistic),
            ("homogeneity_p", same.PValue)];
    }

    private static IEnumerable<(string, double)> Agreement(KappaEstimate kappa) =>
        [("value", kappa.Value), ("standard_error", kappa.StandardError), ("lower", kappa.Lower), ("upper", kappa.Upper)];

    private static IEnumerable<(string, double)> Shares(IReadOnlyList<Bounds> bounds) =>
        [.. bounds.SelectMany((ends, i) => new[] { ($"lower_{i + 1}", ends.Lower), ($"upper_{i + 1}", ends.Upper) })];

    private static IEnumerable<(string, double)> Quantile(QuantileEstimate quantile) =>
        [("value", quantile.Value), ("lower_rank", quantile.LowerRank), ("upper_rank", quantile.UpperRank), ("coverage", quantile.Coverage)
        ];

    /// <summary>One value first, then two others in turn, as the source's files are built.</summary>
    private static IEnumerable<(string, double)> Spread(JsonObject inputs)
    {
        var (first, a, b) = (inputs["first"]!.GetValue<double>(), inputs["then"]![0]!.GetValue<double>(),
            inputs["then"]![1]!.GetValue<double>());
        var moments = Moments.Of([first, .. Enumerable.Range(0, inputs["pairs"]!.GetValue<int>()).SelectMany(_ => new[] { a, b })]);
        return [("n", moments.N), ("mean", moments.Mean), ("standard_deviation", moments.StandardDeviation!.Value)];
    }

    private static long[] Integers(JsonNode node) => [.. node.AsArray().Select(value => value!.GetValue<long>())];

    private static Count Group(JsonNode node) => new(node["met"]!.GetValue<long>(), node["eligible"]!.GetValue<long>(), 0);
}
