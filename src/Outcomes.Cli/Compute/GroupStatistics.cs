using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>Groups beside each other: funnel plots, shrunken estimates, pooling. Results keep the order given; nothing is ranked.</summary>
internal static class GroupStatistics
{
    private const int MostGroups = 2_000;

    /// <summary>Where the work of fitting grows with the records.</summary>
    private const long MostShrunk = 1_000_000;

    private static readonly ComputeInput Met = new("met", "list of integers", "records that met the measure, one number a group");
    private static readonly ComputeInput Eligible = new("eligible", "list of integers", "records judged, one number a group");
    private static readonly ComputeInput Groups = new("groups", "list of texts", "names of the groups", "their places in the list");
    private static readonly ComputeInput Level = new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95");
    private static readonly ComputeInput Between = new("between", "text",
        "variance between groups by reml, paule_mandel, dersimonian_laird, or none (one true value for all)", "reml");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("funnel", "groups against a target, with 95 % and 99.8 % limits for each size",
            [
                Met, Eligible, Groups,
                new("target", "number", "what to compare with, above 0 and below 1", "the pooled proportion"),
                new("limits", "text", "exact (steps), interpolated (smooth) or normal", "exact"),
                new("widening", "text", "none, multiplicative or additive, for variation beyond chance", "none"),
                new("winsorise", "number", "share of z-scores pulled in at each end, 0 to 0.49", "0.1"),
            ],
            Funnels.Source,
            """{"met": [3, 8, 5, 20, 9, 31], "eligible": [40, 60, 55, 90, 100, 210], "target": 0.12}""",
            FunnelOf),
        new("shrinkage", "each group's proportion pulled towards the mean of all (empirical Bayes, beta-binomial)", [Met, Eligible, Groups,
            Level], BetaBinomial.Source, """{"met": [3, 8, 5, 20, 9, 31], "eligible": [40, 60, 55, 90, 100, 210]}""", Shrunken),
        new("james_stein", "values of one known variance pulled towards their mean, for teaching",
            [new("values", "list of numbers", "at least four, of groups of equal size"),
                new("variance", "number", "of each, above 0 and known")],
            JamesStein.Source,
            """{"values": [0.4, 0.31, 0.27, 0.22, 0.16], "variance": 0.0043}""",
            inputs =>
            {
                var values = inputs.Numbers("values", -1e9, 1e9, MostGroups);
                if (values.Length < 4)
                    throw inputs.Wrong("values", "must have at least four numbers");
                var shrunk = JamesStein.Shrink(values, inputs.Number("variance", 1e-12, 1e12, 1));
                return new()
                {
                    ["mean"] = Numbers.Of(shrunk.Mean),
                    ["factor"] = Numbers.Of(shrunk.Factor),
                    ["values"] = List(shrunk.Values)
                };
            }),
        new("pooled_proportion", "one proportion from several sites, with how much they differ",
            [
                Met with { Meaning = "records that met the measure, one number a site" },
                Eligible with { Meaning = "records judged, one number a site, each at least 1" },
                Between with
                {
                    Meaning = "variance between sites by reml, paule_mandel, dersimonian_laird, or none (one true value for all)"
                },
                Level,
            ],
            $"{RandomEffects.Source}; logit scale",
            """{"met": [3, 8, 5, 20, 9, 31], "eligible": [40, 60, 55, 90, 100, 210]}""",
            PooledProportion),
        new("pooled_effect", "one value from several, each with its sampling variance",
            [new("values", "list of numbers", "one value a group, such as a log odds ratio"),
                new("variances", "list of numbers", "its sampling variance, above 0"), Between, Level],
            RandomEffects.Source,
            """{"values": [-0.9, -1.6, -0.2, -0.8, 0.1], "variances": [0.33, 0.19, 0.05, 0.07, 0.04]}""",
            inputs =>
            {
                var (values, variances) =
                    (inputs.Numbers("values", -1e9, 1e9, MostGroups), inputs.Numbers("variances", 1e-12, 1e12, MostGroups));
                if (values.Length == 0 || values.Length != variances.Length)
                    throw inputs.Wrong("variances",
                        $"has {variances.Length} groups and values has {values.Length}: they must have as many, and at least one");
                return Pooled(RandomEffects.Pool([.. values.Zip(variances, (value, variance) => new Effect(value, variance))],
                    BetweenOf(inputs), inputs.Level()), value => value);
            }),
    ];

    private static ImmutableArray<GroupCount> GroupsOf(ComputeInputs inputs)
    {
        var counts = inputs.Counts(MostGroups, "group");
        var names = inputs.Texts("groups", MostGroups);
        return names is { } given && given.Length != counts.Length
            ? throw inputs.Wrong("groups", $"has {given.Length} names for {counts.Length} groups: there must be as many")
            : [.. counts.Select((count, i) => new GroupCount(names?[i] ?? $"{i + 1}", count))];
    }

    private static BetweenVariance BetweenOf(ComputeInputs inputs) =>
        inputs.Choice("between", "reml", "paule_mandel", "dersimonian_laird", "none") switch
        {
            "reml" => BetweenVariance.Reml,
            "paule_mandel" => BetweenVariance.PauleMandel,
            "dersimonian_laird" => BetweenVariance.DerSimonianLaird,
            _ => BetweenVariance.None,
        };

    private static JsonArray List(IEnumerable<double> numbers) => [.. numbers.Select(number => Numbers.Of(number))];

    private static JsonArray? Pair(Bounds? bounds) => bounds is { } ends ? List([ends.Lower, ends.Upper]) : null;

    private static JsonObject FunnelOf(ComputeInputs inputs)
    {
        var funnel = Funnels.Analyse(
            GroupsOf(inputs),
            inputs.Has("target") ? inputs.Number("target", 1e-9, 1 - 1e-9, 0) : null,
            inputs.Choice("limits", "exact", "interpolated", "normal") switch
            {
                "exact" => FunnelLimits.Exact,
                "interpolated" => FunnelLimits.Interpolated,
                _ => FunnelLimits.Normal
            },
            inputs.Choice("widening", "none", "multiplicative", "additive") switch
            {
                "none" => Widening.None,
                "multiplicative" => Widening.Multiplicative,
                _ => Widening.Additive
            },
            inputs.Number("winsorise", 0, 0.49, 0.1));
        return new()
        {
            ["target"] = Numbers.Of(funnel.Target),
            ["phi"] = Numbers.Of(funnel.Dispersion?.Phi),
            ["tau_squared"] = Numbers.Of(funnel.Dispersion?.TauSquared),
            ["groups"] = new JsonArray([.. funnel.Points.Select(point => new JsonObject
            {
                ["group"] = point.Group,
                ["value"] = Numbers.Of(point.Value),
                ["z"] = Numbers.Of(point.Z),
                ["within_95"] = Pair(point.Limits?.Within95),
                ["within_998"] = Pair(point.Limits?.Within998),
                ["place"] = point.Place switch
                {
                    FunnelPlace.Inside => "inside",
                    FunnelPlace.Outside95 => "outside_95",
                    _ => "outside_99.8"
                },
            })]),
            ["doubts"] = ControlChartStatistics.Doubts(funnel.Doubts.Select(ChartCautions.Name), funnel.Doubts.Select(ChartCautions.Say)),
            ["caution"] = ChartCautions.Funnel,
        };
    }

    private static JsonObject Shrunken(ComputeInputs inputs)
    {
        var groups = GroupsOf(inputs);
        if (groups.Sum(group => group.Count.Eligible) > MostShrunk)
            throw inputs.Wrong("eligible", $"adds up to more than {MostShrunk}, where shrinkage no longer matters");
        if (groups.Count(group => group.Count.Eligible > 0) < 2
            || groups.All(group => group.Count.Met == 0 || group.Count.Met == group.Count.Eligible))
            throw inputs.Wrong("met", "needs two groups with records, and one in which some met and some did not");
        var shrunk = BetaBinomial.Shrink(groups, inputs.Level());
        return Intervals.Why(new()
        {
            ["mean"] = Numbers.Of(shrunk.Prior.Mean),
            ["spread"] = Numbers.Of(shrunk.Prior.Spread),
            ["groups"] = new JsonArray([.. shrunk.Groups.Select(group =>
                new JsonObject { ["group"] = group.Group, ["value"] = Numbers.Of(group.Value), ["within"] = Pair(group.Within) })]),
            ["level"] = Numbers.Of(shrunk.Level),
        }, shrunk.Groups.All(group => group.Within is null) ? NoInterval.AlikeGroups : null);
    }

    private static JsonObject PooledProportion(ComputeInputs inputs)
    {
        var counts = inputs.Counts(MostGroups, "site");
        if (counts.Length == 0 || counts.Any(count => count.Eligible == 0))
            throw inputs.Wrong("eligible", "must have at least one site, each with at least one record");
        return Pooled(RandomEffects.Pool([.. counts.Select(ProportionScale.Logit)], BetweenOf(inputs), inputs.Level()),
            ProportionScale.FromLogit);
    }

    private static JsonObject Pooled(PooledEffect pooled, Func<double, double> back)
    {
        JsonArray? Ends(Bounds? bounds) => bounds is { } ends ? List([back(ends.Lower), back(ends.Upper)]) : null;
        return new()
        {
            ["value"] = Numbers.Of(back(pooled.Value)),
            ["within"] = Ends(pooled.Within),
            ["hartung_knapp"] = Ends(pooled.HartungKnapp),
            ["prediction"] = Ends(pooled.Prediction),
            ["tau_squared"] = Numbers.Of(pooled.TauSquared),
            ["i_squared"] = Numbers.Of(pooled.ISquared),
            ["q"] = Numbers.Of(pooled.Q),
            ["q_degrees"] = pooled.Degrees,
            ["q_chance"] = Numbers.Of(pooled.QChance),
        };
    }
}
