using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The statistics of several groups, of values and of two judgements.</summary>
internal static class PooledStatistics
{
    private static readonly ComputeInput Level = new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95");
    private static readonly ComputeInput Proportions = new("first", "number", "proportion in the first group, above 0 and below 1");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("mantel_haenszel",
            "two groups compared within strata and pooled: odds ratio, risk ratio, difference, test, and whether the strata agree",
            [
                new("first", "list of counts", "the first group in each stratum, objects of met and eligible"),
                new("second", "list of counts", "the second group in each stratum, in the same order"),
                Level,
            ],
            $"{MantelHaenszel.OddsRatioSource}; {MantelHaenszel.RatioAndDifferenceSource}; {BreslowDay.Source}",
            """{"first": [{"met": 11, "eligible": 36}, {"met": 16, "eligible": 20}], "second": [{"met": 10, "eligible": 37},"""
                + """ {"met": 22, "eligible": 32}]}""",
            Strata),
        new("trend", "trend of a proportion over ordered groups, and whether the groups differ at all",
            [new("groups", "list of counts", "groups in order, objects of met and eligible"),
                new("scores", "list of numbers", "one a group", "1, 2, 3 ...")],
            $"{Trend.Source}; {ChiSquare.HomogeneitySource}",
            """{"groups": [{"met": 83, "eligible": 86}, {"met": 90, "eligible": 93}, {"met": 129, "eligible": 136}, {"met": 70,"""
                + """ "eligible": 82}]}""",
            Ordered),
        new("quantile", "a median or another quantile of values given as a table, with its interval from order statistics",
            [
                new("values", "list of numbers", "the values"),
                new("n", "list of integers", "how many of each value", "1 of each"),
                new("p", "number", "which quantile, above 0 and below 1", "0.5"),
                Level,
            ],
            Quantiles.Source, """{"values": [20, 25, 30, 40, 60, 90, 150], "n": [2, 5, 9, 6, 4, 2, 1]}""", Quantile),
        new("mean", "mean, standard deviation and interval of values, and what to keep of them so that sites can be added up",
            [new("values", "list of numbers", "the values"), Level], $"{Moments.Source}; Student. Biometrika 1908;6:1-25",
            """{"values": [94, 97, 91, 99, 88, 96, 93]}""", Mean),
        new("kappa", "agreement of two judgements of the same records beyond chance",
            [
                new("table", "list of lists of integers", "how many records the first judged i and the second j; a square"),
                new("weights", "text", "none, linear or quadratic: how disagreements of ordered categories count", "none"),
                Level,
            ],
            Kappa.Source, """{"table": [[20, 5], [10, 15]]}""", Agreement),
        new("two_proportion_power", "how surely two groups of a size show a difference of proportions",
            [
                Proportions, Proportions with { Name = "second", Meaning = "proportion in the second group, another one" },
                new("per_group", "integer", "records in each group"),
                new("level", "number", "1 less the significance level of the two-sided test", "0.95"),
            ],
            TwoProportionPower.Source, """{"first": 0.5, "second": 0.75, "per_group": 50}""",
            inputs => new()
            {
                ["power"] = Numbers.Of(TwoProportionPower.Power(inputs.Share("first"), Other(inputs),
                    inputs.Integer("per_group", 1, ComputeInputs.MostRecords), inputs.Level()))
            }),
        new("two_proportion_size", "how many records in each of two groups show a difference of proportions with a given power",
            [
                Proportions, Proportions with { Name = "second", Meaning = "proportion in the second group, another one" },
                new("power", "number", "chance of showing the difference, above 0 and below 1", "0.9"),
                new("level", "number", "1 less the significance level of the two-sided test", "0.95"),
            ],
            TwoProportionPower.Source, """{"first": 0.5, "second": 0.75}""", Size),
    ];

    private static JsonObject Strata(ComputeInputs inputs)
    {
        var (first, second, level) = (inputs.Groups("first", 1, 1_000), inputs.Groups("second", 1, 1_000), inputs.Level());
        if (first.Length != second.Length)
            throw inputs.Wrong("first", $"has {first.Length} strata and second has {second.Length}: they must have as many");
        var strata = first.Zip(second).ToArray();
        if (MantelHaenszel.OddsRatio(strata, level) is not { } odds)
            throw inputs.Wrong("first", "and second have no stratum with records in both");
        return new()
        {
            ["odds_ratio"] = Intervals.Of(odds),
            ["risk_ratio"] = Intervals.Of(MantelHaenszel.RiskRatio(strata, level)!),
            ["difference"] = Intervals.Of(MantelHaenszel.Difference(strata, level)!),
            ["association"] = Intervals.Of(MantelHaenszel.Test(strata)),
            ["association_corrected"] = Intervals.Of(MantelHaenszel.Test(strata, corrected: true)),
            ["homogeneity_breslow_day"] = Intervals.Of(BreslowDay.Test(strata, tarone: false)),
            ["homogeneity_tarone"] = Intervals.Of(BreslowDay.Test(strata)),
        };
    }

    private static JsonObject Ordered(ComputeInputs inputs)
    {
        var groups = inputs.Groups("groups", 2, 1_000);
        var scores = inputs.Has("scores") ? inputs.NumberList("scores") : [.. Enumerable.Range(1, groups.Length).Select(i => (double)i)];
        if (scores.Length != groups.Length)
            throw inputs.Wrong("scores", $"has {scores.Length} numbers and there are {groups.Length} groups: they must have as many");
        if (Trend.Test(groups, scores) is not { } trend)
            throw inputs.Wrong("groups", "say nothing about a trend: nobody or everybody met, or the scores do not differ");
        return new()
        {
            ["z"] = Numbers.Of(trend.Z),
            ["chi_square"] = Numbers.Of(trend.ChiSquare),
            ["p"] = Numbers.Of(trend.PValue),
            ["slope"] = Numbers.Of(trend.Slope),
            ["homogeneity"] = Intervals.Of(ChiSquare.Homogeneity(groups)),
        };
    }

    private static JsonObject Quantile(ComputeInputs inputs)
    {
        var values = inputs.NumberList("values");
        var n = inputs.Has("n")
            ? inputs.Integers("n", 1, ComputeInputs.MostValues, ComputeInputs.MostRecords / ComputeInputs.MostValues)
            : [.. values.Select(_ => 1L)];
        if (n.Length != values.Length)
            throw inputs.Wrong("n", $"has {n.Length} numbers and there are {values.Length} values: they must have as many");
        var p = inputs.Number("p", 1e-6, 1 - 1e-6, 0.5);
        if (Quantiles.Estimate(values.Zip(n), p, inputs.Level()) is not { } estimate)
            throw inputs.Wrong("n", "must hold at least one value in all");
        return Intervals.Why(new()
        {
            ["value"] = Numbers.Of(estimate.Value),
            ["lower"] = Numbers.Of(estimate.Lower),
            ["upper"] = Numbers.Of(estimate.Upper),
            ["level"] = Numbers.Of(estimate.Level),
            ["coverage"] = Numbers.Of(estimate.Coverage),
            ["lower_rank"] = estimate.LowerRank,
            ["upper_rank"] = estimate.UpperRank,
            ["n"] = estimate.N,
        }, estimate is { Lower: not null, Upper: not null } ? null : NoInterval.FewValues);
    }

    private static JsonObject Mean(ComputeInputs inputs)
    {
        var moments = Moments.Of(inputs.NumberList("values"));
        var interval = moments.MeanInterval(inputs.Level());
        return Intervals.Why(new()
        {
            ["value"] = Numbers.Of(moments.Mean),
            ["lower"] = Numbers.Of(interval?.Lower),
            ["upper"] = Numbers.Of(interval?.Upper),
            ["level"] = Numbers.Of(inputs.Level()),
            ["standard_deviation"] = Numbers.Of(moments.StandardDeviation),
            ["n"] = moments.N,
            ["sum_of_squares"] = Numbers.Of(moments.SumOfSquares),
            ["least"] = Numbers.Of(moments.Least),
            ["greatest"] = Numbers.Of(moments.Greatest),
        }, moments.WhyNoInterval);
    }

    private static JsonObject Agreement(ComputeInputs inputs)
    {
        var weights = inputs.Choice("weights", "none", "linear", "quadratic");
        if (Kappa.Estimate(inputs.Table("table"), Enum.Parse<KappaWeights>(weights, ignoreCase: true), inputs.Level()) is not { } kappa)
            throw inputs.Wrong("table", "has every record in one and the same category: agreement beyond chance cannot be told");
        var result = Intervals.Of(kappa.Value, kappa.Lower, kappa.Upper, kappa.Level, kappa.WhyNoInterval);
        result["standard_error"] = Numbers.Of(kappa.StandardError);
        result["observed"] = Numbers.Of(kappa.Observed);
        result["expected"] = Numbers.Of(kappa.Expected);
        result["n"] = kappa.N;
        return result;
    }

    private static JsonObject Size(ComputeInputs inputs)
    {
        var (first, second, power, level) =
            (inputs.Share("first"), Other(inputs), inputs.Number("power", 0.01, 0.9999, 0.9), inputs.Level());
        return new()
        {
            ["per_group"] = Numbers.Of(TwoProportionPower.PerGroup(first, second, power, level)),
            ["per_group_corrected"] = Numbers.Of(TwoProportionPower.PerGroup(first, second, power, level, corrected: true)),
        };
    }

    private static double Other(ComputeInputs inputs) =>
        inputs.Share("second") != inputs.Share("first") ? inputs.Share("second") : throw inputs.Wrong("second", "must differ from first");
}
