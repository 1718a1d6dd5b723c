using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>Charts with memory, learning curves, and whether a declared change helped.</summary>
internal static class SequenceStatistics
{
    private const int MostMonths = 600;
    private const double Huge = 1e12;

    private static readonly ComputeInput Values = new("values", "list of numbers", "measurements in time order");
    private static readonly ComputeInput Target = new("target", "number", "the mean to hold");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("cusum", "tabular CUSUM of a measurement about a target, for teaching",
            [Values, Target, new("allowance", "number", "k, half the shift to be found, at least 0"), new("limit", "number", "h, above 0")],
            MeanCharts.CusumSource,
            """{"values": [9.8, 10.4, 10.9, 11.6, 11.2, 12.1, 11.9], "target": 10, "allowance": 0.5, "limit": 4}""",
            inputs =>
            {
                var sums = MeanCharts.Cusum(inputs.Numbers("values", -Huge, Huge, ControlChartStatistics.MostPoints).AsSpan(),
                    Needed(inputs, "target", -Huge), Needed(inputs, "allowance", 0), Needed(inputs, "limit", 1e-9));
                return new()
                {
                    ["high"] = List(sums.High),
                    ["low"] = List(sums.Low),
                    ["signal_at"] = sums.SignalAt + 1,
                    ["caution"] = ChartCautions.ControlChart
                };
            }),
        new("ewma", "exponentially weighted moving average of a measurement about a target, for teaching",
            [
                Values, Target, new("deviation", "number", "standard deviation of single values, above 0"),
                new("weight", "number", "of the newest value, above 0, at most 1"), new("multiple", "number",
                    "limits at as many standard deviations of the average, above 0", "3"),
            ],
            MeanCharts.EwmaSource,
            """{"values": [9.8, 10.4, 10.9, 11.6, 11.2, 12.1, 11.9], "target": 10, "deviation": 1, "weight": 0.3}""",
            inputs => ControlChartStatistics.Chart(MeanCharts.Ewma(
                inputs.Numbers("values", -Huge, Huge, ControlChartStatistics.MostPoints).AsSpan(), Needed(inputs, "target", -Huge),
                Needed(inputs, "deviation", 1e-9), inputs.Number("weight", 1e-6, 1, 0.2), inputs.Number("multiple", 1e-6, 100, 3)))),
        new("learning_curve", "cumulative sums of a learner's own successes and failures",
            [
                new("failures", "list of integers", "1 for a failure and 0 for a success, in the order of the cases"),
                new("acceptable", "number", "acceptable failure rate, above 0"),
                new("unacceptable", "number", "unacceptable failure rate, above the acceptable one and below 1"),
                new("alpha", "number", "chance of calling an acceptable rate unacceptable, above 0 and below one half", "0.1"),
                new("beta", "number", "chance of calling an unacceptable rate acceptable, above 0 and below one half", "0.1"),
            ],
            $"{LearningCurve.Source}; {LearningCurve.CompetenceSource}",
            """{"failures": [1, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0], "acceptable": 0.1, "unacceptable": 0.3}""",
            Curve),
        new("segmented_regression", "did a declared change help: level and trend of a monthly proportion before and after it",
            [
                new("met", "list of integers", "records that met the measure, one number a month in order"),
                new("eligible", "list of integers", "records judged; a month of 0 takes no part"),
                new("start", "text", "the first month, such as 2023-04", "2000-01"),
                new("change", "text", "the first month in which the change holds, such as 2024-04"),
                new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95"),
            ],
            SegmentedRegression.Source,
            """{"start": "2024-01", "change": "2024-11", "met": [14, 15, 12, 16, 13, 15, 14, 13, 16, 14, 17, 18, 16, 19, 17, 18,"""
                + """ 19, 18, 17, 19], "eligible": [20, 21, 18, 22, 19, 20, 21, 19, 22, 20, 21, 22, 19, 22, 20, 21, 22, 20, 19, 21]}""",
            Segmented),
    ];

    private static JsonArray List(IEnumerable<double> numbers) => [.. numbers.Select(number => Numbers.Of(number))];

    private static double Needed(ComputeInputs inputs, string name, double least) => inputs.Number(name, least, Huge, double.NaN);

    private static JsonObject Curve(ComputeInputs inputs)
    {
        bool[] failures = [.. inputs.WholeNumbers("failures", 0, 1, ControlChartStatistics.MostPoints).Select(failure => failure == 1)];
        var acceptable = inputs.Number("acceptable", 1e-6, 1 - 1e-6, 0);
        var unacceptable = inputs.Number("unacceptable", 1e-6, 1 - 1e-6, 0);
        if (unacceptable <= acceptable)
            throw inputs.Wrong("unacceptable", "must be above acceptable");
        var sums = LearningCurve.Follow(failures, acceptable, unacceptable, inputs.Number("alpha", 1e-6, 0.499, 0.1),
            inputs.Number("beta", 1e-6, 0.499, 0.1));
        return new()
        {
            ["failure"] = Numbers.Of(sums.Failure),
            ["success"] = Numbers.Of(sums.Success),
            ["lower"] = Numbers.Of(sums.Lower),
            ["upper"] = Numbers.Of(sums.Upper),
            ["sums"] = List(sums.Sums),
            ["acceptable_at"] = sums.AcceptableAt + 1,
            ["unacceptable_at"] = sums.UnacceptableAt + 1,
            ["competence"] = List(LearningCurve.Competence(failures, acceptable, unacceptable)),
            ["caution"] = ChartCautions.LearningCurve,
        };
    }

    private static JsonObject Segmented(ComputeInputs inputs)
    {
        var counts = inputs.Counts(MostMonths);
        var start = inputs.Month("start", new Month(2000, 1));
        var change = inputs.Month("change", start).MonthsSince(start);
        if (change < 1 || change >= counts.Length)
            throw inputs.Wrong("change", $"must be a month after {start} and within the {counts.Length} months given");
        var level = inputs.Level();
        var result = SegmentedRegression.Fit(new(start.Year, start.Number, counts), change, level);
        return new()
        {
            ["difference"] = result.Difference is { } difference
                ? new JsonObject
                {
                    ["value"] = Numbers.Of(difference.Value),
                    ["lower"] = Numbers.Of(difference.Lower),
                    ["upper"] = Numbers.Of(difference.Upper)
                }
                : null,
            ["trend_before"] = Ratio(result.TrendBefore),
            ["level_change"] = Ratio(result.Level),
            ["trend_change"] = Ratio(result.Trend),
            ["at_end"] = Ratio(result.AtEnd),
            ["fitted_at_end"] = Numbers.Of(result.FittedAtEnd),
            ["foretold_at_end"] = Numbers.Of(result.ForetoldAtEnd),
            ["dispersion"] = Numbers.Of(result.Dispersion),
            ["coefficients"] = List(result.Coefficients),
            ["errors"] = List(result.Errors),
            ["level"] = Numbers.Of(level),
            ["doubts"] = ControlChartStatistics.Doubts(result.Doubts.Select(ChartCautions.Name), result.Doubts.Select(ChartCautions.Say)),
            ["caution"] = SegmentedRegression.CannotRuleOut,
        };
    }

    private static JsonObject? Ratio(FittedOdds? ratio) => ratio is null
        ? null
        : new() { ["odds_ratio"] = Numbers.Of(ratio.Value), ["lower"] = Numbers.Of(ratio.Lower), ["upper"] = Numbers.Of(ratio.Upper) };
}
