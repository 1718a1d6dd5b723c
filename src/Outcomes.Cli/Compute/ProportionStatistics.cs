using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The statistics of one proportion and of two.</summary>
internal static class ProportionStatistics
{
    private static readonly ComputeInput Met = new("met", "integer", "records that met the measure, from 0 to eligible");
    private static readonly ComputeInput Eligible = new("eligible", "integer", "records judged, at least 1");
    private static readonly ComputeInput First = new("first", "count", "the first group: an object of met and eligible");
    private static readonly ComputeInput Second = new("second", "count",
        "the second group, which is subtracted: an object of met and eligible");
    private static readonly ComputeInput Level = new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("wilson", "score interval for a proportion, the default in every table", [Met, Eligible, Level], Wilson.Source,
            """{"met": 81, "eligible": 263}""",
            inputs => Interval(inputs, IntervalMethod.Wilson)),
        new("clopper_pearson", "exact interval for a proportion, never covering less than its level", [Met, Eligible, Level],
            ClopperPearson.Source, """{"met": 81, "eligible": 263}""", inputs => Interval(inputs, IntervalMethod.ClopperPearson)),
        new("upper_when_none", "exact one-sided upper bound for a proportion of which none was seen",
            [Eligible, Level with { Meaning = "one-sided confidence level, above 0 and below 1" }],
            ClopperPearson.UpperWhenNoneSource,
            """{"eligible": 30}""",
            UpperWhenNone),
        new("missing_bounds", "what a proportion would be if no missing record had met the measure, and if all had",
            [Met, Eligible with { Meaning = "records judged" },
                new("missing", "integer", "records that could not be judged, outside eligible")],
            Proportion.MissingBoundsSource,
            """{"met": 8, "eligible": 10, "missing": 10}""",
            MissingBounds),
        new("difference_newcombe", "difference of two proportions with its hybrid score interval, the default", [First, Second,
            Level], Difference.NewcombeSource, """{"first": {"met": 56, "eligible": 70}, "second": {"met": 48, "eligible": 80}}""",
            inputs => DifferenceOf(inputs, Difference.Newcombe)),
        new("difference_wald_cc", "difference with the continuity-corrected Wald interval, only to reproduce a paper that used it", [First,
            Second, Level], Difference.WaldContinuityCorrectedSource,
            """{"first": {"met": 600, "eligible": 705}, "second": {"met": 504, "eligible": 712}}""",
            inputs => DifferenceOf(inputs, Difference.WaldContinuityCorrected)),
        new("poisson_rate", "events over a known exposure, such as records over an independent count, with its exact interval",
            [new("events", "integer", "events seen"), new("exposure", "number", "what they arose from, above 0", "1"), Level],
            ExactPoisson.Source, """{"events": 10}""", PoissonRate),
    ];

    private static JsonObject Interval(ComputeInputs inputs, IntervalMethod method) =>
        Intervals.Of(Proportion.Estimate(inputs.MetOfEligible(), method, inputs.Level())!);

    private static JsonObject UpperWhenNone(ComputeInputs inputs)
    {
        var level = inputs.Level();
        return new()
        {
            ["upper"] = Numbers.Of(ClopperPearson.UpperWhenNone(inputs.Integer("eligible", 1, ComputeInputs.MostRecords), level)),
            ["level"] = Numbers.Of(level),
        };
    }

    private static JsonObject MissingBounds(ComputeInputs inputs)
    {
        var eligible = inputs.Integer("eligible", 0, ComputeInputs.MostRecords);
        var count = new Count(inputs.Integer("met", 0, eligible), eligible, inputs.Integer("missing", 0, ComputeInputs.MostRecords));
        if (Proportion.MissingBounds(count) is not { } bounds)
            throw inputs.Wrong("eligible", "and missing are both 0: there is no record to bound");
        return new()
        {
            ["value"] = Numbers.Of(Proportion.Estimate(count)?.Value),
            ["lower"] = Numbers.Of(bounds.Lower),
            ["upper"] = Numbers.Of(bounds.Upper),
        };
    }

    private static JsonObject PoissonRate(ComputeInputs inputs)
    {
        var (events, exposure, level) =
            (inputs.Integer("events", 0, 100_000_000), inputs.Number("exposure", 1e-9, 1e12, 1), inputs.Level());
        var (lower, upper) = ExactPoisson.Interval(events, exposure, level);
        return new()
        {
            ["value"] = Numbers.Of(events / exposure),
            ["lower"] = Numbers.Of(lower),
            ["upper"] = Numbers.Of(upper),
            ["level"] = Numbers.Of(level),
        };
    }

    private static JsonObject DifferenceOf(ComputeInputs inputs, Func<Count, Count, double, DifferenceEstimate?> difference) =>
        Intervals.Of(difference(inputs.Group("first"), inputs.Group("second"), inputs.Level())!);
}
