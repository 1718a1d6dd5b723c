using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Analysis;
using Outcomes.CaseMix;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The statistics of expected outcomes: models, how good they are, and what is seen against them.</summary>
internal static class CaseMixStatistics
{
    private static readonly ComputeInput Met = new("met", "list of integers", "the outcome of each record: 1 met, 0 not met");
    private static readonly ComputeInput Expected = new("expected", "list of numbers",
        "the expected chance of each record, above 0 and below 1");
    private static readonly ComputeInput Level = new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("logistic", "logistic regression: coefficients, standard errors, Wald and profile likelihood intervals; "
            + "Firth's penalised ones where outcomes are separated",
            [
                new("rows", "list of rows", "the covariates of each record, a list of numbers each, without an intercept"),
                Met,
                new("penalised", "true or false", "Firth's penalised likelihood, separated or not", "false"),
                new("ridge", "number",
                    "penalty on each log odds ratio for one standard deviation, 0 to 1000; the case mix of a run has 0.5", "0: none"),
                Level,
            ],
            $"{Logistic.Source}; {Logistic.FirthSource}; ridge: {Ridge.Source}",
            """{"rows": [[0], [0], [0], [0], [0], [1], [1], [1], [1], [1]], "met": [0, 0, 0, 1, 1, 0, 1, 1, 1, 1]}""",
            Fit),
        new("auc", "how well a score tells records that met from those that did not: area under the ROC curve with DeLong's interval",
            [new("scores", "list of numbers", "the score of each record, higher for met"), Met, Level], Discrimination.Source,
            """{"scores": [0.1, 0.3, 0.2, 0.4, 0.35, 0.8], "met": [0, 0, 0, 1, 1, 1]}""",
            Area),
        new("calibration", "whether expected chances are as high as they should be: intercept, slope, Brier score and the points of a plot",
            [Expected, Met, new("groups", "integer", "most points of the plot, 2 to 100", "10"), Level], Calibration.Source,
            """{"expected": [0.2, 0.2, 0.2, 0.2, 0.6, 0.6, 0.6, 0.6], "met": [0, 0, 1, 0, 1, 0, 1, 0]}""",
            Calibrate),
        new("standardised_ratio", "observed over expected events with its interval",
            [
                new("observed", "integer", "events seen, 0 to 100 million"), new("expected", "number", "events expected, above 0", "1"),
                new("expected_error", "number", "standard error of expected, by the exact interval only", "0: known"),
                new("interval", "text", "exact, mid_p or byar", "exact"), Level,
            ],
            $"{StandardisedRatio.Source}; with an error: {StandardisedRatio.ErrorSource}",
            """{"observed": 137, "expected": 24.19893}""",
            Standardise),
        new("risk_adjusted_cusum",
            "CUSUM of log likelihood ratios over records in order, each weighed by its expected chance, with a simulated limit",
            [
                Expected, Met,
                new("odds_ratio", "number", "the change of odds to look for, above 0 and not 1", "2"),
                new("limit", "number", "the limit, above 0", "simulated from the records' own chances"),
                new("false_alarm", "number", "where the limit is simulated: chance of a false alarm within the run", "0.05"),
                new("run", "integer", "where the limit is simulated: records in a run, 1 to 100000", "as many as are given"),
                new("seed", "integer", "where the limit is simulated: the seed, 0 or more", "1"),
            ],
            RiskAdjustedCusum.Source,
            """{"expected": [0.1, 0.2, 0.1, 0.4, 0.1], "met": [0, 1, 0, 1, 1], "limit": 1.5}""",
            Cusum),
    ];

    private static JsonObject Fit(ComputeInputs inputs)
    {
        var rows = inputs.Rows("rows");
        var met = inputs.Outcomes("met", rows.Length);
        if (Logistic.Collinear(rows) is [var column, ..])
            throw inputs.Wrong("rows", $"have a column, number {column + 1}, that is constant or a sum of those before it: leave it out");
        var (penalty, penalised) = (inputs.Number("ridge", 0, 1_000, 0), inputs.Flag("penalised"));
        if (penalty > 0 && penalised)
            throw inputs.Wrong("ridge", "must be 0 where `penalised` is true: one penalty at a time");
        var fit = Told(inputs, "rows", () => penalty > 0 ? Ridge.Fit(rows, met, penalty, inputs.Level())
            : Logistic.Fit(rows, met, penalised, profile: true, inputs.Level()));
        return new()
        {
            ["coefficients"] = Array(fit.Coefficients.Select(each => each.Value)),
            ["standard_errors"] = Array(fit.Coefficients.Select(each => each.StandardError)),
            ["wald_lower"] = Array(fit.Coefficients.Select(each => each.Wald.Lower)),
            ["wald_upper"] = Array(fit.Coefficients.Select(each => each.Wald.Upper)),
            ["profile_lower"] = new JsonArray([.. fit.Coefficients.Select(each => Six(each.Profile?.Lower))]),
            ["profile_upper"] = new JsonArray([.. fit.Coefficients.Select(each => Six(each.Profile?.Upper))]),
            ["log_likelihood"] = Six(fit.LogLikelihood),
            ["deviance"] = Six(fit.Deviance),
            ["separation"] = fit.Separation.ToString().ToLowerInvariant(),
            ["penalised"] = fit.Penalised,
        };
    }

    private static JsonObject Area(ComputeInputs inputs)
    {
        var scores = inputs.Numbers("scores", double.MinValue, double.MaxValue);
        var met = inputs.Outcomes("met", scores.Length);
        var area = Told(inputs, "met", () => Discrimination.Auc(scores, met, inputs.Level()));
        var none = area.WhyNoInterval is not null;
        return Intervals.Why(new()
        {
            ["value"] = Numbers.Of(area.Value),
            ["lower"] = none ? null : Numbers.Of(area.Interval.Lower),
            ["upper"] = none ? null : Numbers.Of(area.Interval.Upper),
            ["variance"] = Numbers.Of(area.Variance),
        }, area.WhyNoInterval);
    }

    private static JsonObject Calibrate(ComputeInputs inputs)
    {
        var expected = inputs.Numbers("expected", 1e-9, 1 - 1e-9);
        var result = Calibration.Assess(expected, inputs.Outcomes("met", expected.Length),
            (int)inputs.Integer("groups", 2, 100, 10), inputs.Level());
        return new()
        {
            ["intercept"] = Coefficient(result.Intercept),
            ["slope"] = Coefficient(result.Slope),
            ["brier"] = Numbers.Of(result.Brier),
            ["brier_of_mean"] = Numbers.Of(result.BrierOfMean),
            ["groups"] = new JsonArray([.. result.Groups.Select(group => new JsonObject
            {
                ["expected"] = Numbers.Of(group.Expected),
                ["met"] = group.Count.Met,
                ["eligible"] = group.Count.Eligible,
                ["observed"] = Numbers.Of(group.Observed.Value),
                ["lower"] = Numbers.Of(group.Observed.Lower),
                ["upper"] = Numbers.Of(group.Observed.Upper),
            })]),
        };
    }

    private static JsonObject Standardise(ComputeInputs inputs)
    {
        var method = inputs.Choice("interval", "exact", "mid_p", "byar") switch
        {
            "exact" => RatioInterval.Exact,
            "mid_p" => RatioInterval.MidP,
            _ => RatioInterval.Byar
        };
        var (observed, expected) = (inputs.Integer("observed", 0, 100_000_000), inputs.Number("expected", 1e-9, 1e9, 1));
        var error = inputs.Number("expected_error", 0, 1e9, 0);
        if (error > 0 && method != RatioInterval.Exact)
            throw inputs.Wrong("expected_error", "goes with the exact interval only: leave `interval` out");
        var ratio = error > 0 ? StandardisedRatio.EstimateWithError(observed, expected, error, inputs.Level())
            : StandardisedRatio.Estimate(observed, expected, method, inputs.Level());
        return new()
        {
            ["value"] = Numbers.Of(ratio.Value),
            ["lower"] = Numbers.Of(ratio.Interval.Lower),
            ["upper"] = Numbers.Of(ratio.Interval.Upper)
        };
    }

    private static JsonObject Cusum(ComputeInputs inputs)
    {
        var expected = inputs.Numbers("expected", 1e-9, 1 - 1e-9);
        var met = inputs.Outcomes("met", expected.Length);
        var oddsRatio = inputs.Number("odds_ratio", 0.01, 100, 2);
        if (oddsRatio == 1)
            throw inputs.Wrong("odds_ratio", "must not be 1: there would be no change to look for");
        var limit = inputs.Has("limit")
            ? inputs.Number("limit", 1e-6, 1e6, 1)
            : RiskAdjustedCusum.Limit(expected, oddsRatio, inputs.Number("false_alarm", 0.001, 0.5, 0.05), (int)inputs.Integer("run", 1,
                100_000, expected.Length), SplitMix64.Uniform((ulong)inputs.Integer("seed", 0, long.MaxValue, 1)), 2_000);
        var chart = RiskAdjustedCusum.Accumulate(expected, met, oddsRatio, limit);
        return new()
        {
            ["values"] = Array(chart.Values),
            ["limit"] = Six(limit),
            ["signals"] = new JsonArray([.. chart.Signals.Select(at => JsonValue.Create(at + 1))]),
        };
    }

    private static JsonObject? Coefficient(Coefficient? coefficient) => coefficient is null ? null : new()
    {
        ["value"] = Six(coefficient.Value),
        ["standard_error"] = Six(coefficient.StandardError),
        ["lower"] = Six(coefficient.Wald.Lower),
        ["upper"] = Six(coefficient.Wald.Upper),
    };

    // Fitted numbers: six digits are what processors share.
    private static JsonNode? Six(double? value) => value is { } number ? Math.Abs(number) < 1e-9 ? 0.0 : ExpectedEvents.Six(number) : null;

    private static JsonArray Array(IEnumerable<double> values) => new([.. values.Select(value => Six(value))]);

    private static T Told<T>(ComputeInputs inputs, string name, Func<T> work)
    {
        try
        {
            return work();
        }
        catch (ArgumentException error)
        {
            throw inputs.Wrong(name, "cannot be used: " + error.Message.Split(" (Parameter")[0]);
        }
    }
}
