using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>Control charts: proportions, rates, single values, and rare events.</summary>
internal static class ControlChartStatistics
{
    internal const int MostPoints = 2_000;
    private const double Huge = 1e12;
    private const long MostEvents = 100_000_000;

    private static readonly ComputeInput BaselinePoints =
        new("baseline_points", "integer", "points that the limits come from, gaps included");
    private static readonly ComputeInput BaselineFrom = new("baseline_from", "integer", "the first of them, counted from 1", "1");
    private static readonly ComputeInput Multiple = new("multiple", "number",
        "limits at as many standard errors, or at their normal tail; above 0, at most 6", "3");
    private static readonly ComputeInput Limits = new("limits", "text", "exact, normal, or laney (as wide as neighbours vary)", "exact");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("p_chart", "control chart of a proportion, with exact, normal or p' limits from a declared baseline",
            [
                new("met", "list of integers", "records that met the measure, one number a point in order"),
                new("eligible", "list of integers", "records judged; 0 is a gap"),
                BaselinePoints, BaselineFrom, Limits, Multiple,
            ],
            $"{AttributeCharts.ProportionSource}; {AttributeCharts.LaneySource}",
            """{"met": [3, 1, 2, 4, 2, 3, 2, 9], "eligible": [20, 18, 22, 25, 19, 21, 20, 20], "baseline_points": 6}""",
            inputs => Chart(AttributeCharts.Proportions(inputs.Counts(MostPoints, "point"), Baseline(inputs),
                Method(inputs), MultipleOf(inputs)))),
        new("u_chart", "control chart of a rate, events per unit of exposure, with exact, normal or u' limits",
            [
                new("events", "list of integers", "events, one number a point in order"),
                new("exposures", "list of numbers", "what they arose from; 0 is a gap"),
                BaselinePoints, BaselineFrom, Limits, Multiple,
            ],
            $"{AttributeCharts.RateSource}; {AttributeCharts.LaneySource}",
            """{"events": [14, 12, 20, 11, 7, 10, 21, 16, 19, 23], "exposures": [10, 8, 13, 10, 10, 10, 12, 11, 12, 13],"""
                + """ "baseline_points": 10, "limits": "normal"}""",
            inputs =>
            {
                var (events, exposures) = (inputs.WholeNumbers("events", 0, ComputeInputs.MostRecords, MostPoints),
                    inputs.Numbers("exposures", 0, Huge, MostPoints));
                if (events.Length != exposures.Length)
                    throw inputs.Wrong("exposures",
                        $"has {exposures.Length} points and events has {events.Length}: they must have as many");
                for (var i = 0; i < events.Length; i++)
                    if (exposures[i] == 0 && events[i] > 0)
                        throw inputs.Wrong($"exposures[{i}]", "is 0, and there are events at that point");
                var (baseline, method) = (Baseline(inputs), Method(inputs));
                var used = Enumerable.Range(0, events.Length).Where(baseline.Contains).ToArray();
                var (seen, under) = (used.Sum(i => events[i]), used.Sum(i => exposures[i]));
                if (method == LimitMethod.Exact && under > 0 && !(seen / under * exposures.Max() <= AttributeCharts.MostExpected))
                    throw inputs.Wrong("exposures", "expect more events at a point than exact limits are made for: ask for normal limits");
                return Chart(AttributeCharts.Rates(events, exposures, baseline, method, MultipleOf(inputs)));
            }),
        new("individuals_chart", "chart of single values and their moving ranges (XmR)",
            [new("values", "list of numbers", "one value a point in order; null is a gap"), BaselinePoints, BaselineFrom],
            IndividualsCharts.Source,
            """{"values": [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1], "baseline_points": 10}""",
            inputs =>
            {
                var (values, ranges) =
                    IndividualsCharts.Analyse(inputs.NumbersAndGaps("values", -Huge, Huge, MostPoints), Baseline(inputs));
                return new() { ["values"] = Chart(values), ["ranges"] = Chart(ranges) };
            }),
        new("g_chart", "chart of cases between rare events",
            [
                new("cases", "list of integers", "cases from each event up to and including the next, at least 1"),
                new("since", "integer", "cases since the last event, drawn as an open gap", "left out"),
                BaselinePoints, BaselineFrom, Limits with { Meaning = "exact, or normal (about the mean)" }, Multiple,
            ],
            RareEventChart.CasesSource,
            """{"cases": [120, 85, 240, 60, 310, 150, 95, 180], "since": 1400, "baseline_points": 8}""",
            inputs => Chart(RareEventChart.Cases(
                inputs.WholeNumbers("cases", 1, ComputeInputs.MostRecords, MostPoints),
                inputs.Has("since") ? inputs.Integer("since", 0, ComputeInputs.MostRecords) : null,
                Baseline(inputs),
                inputs.Choice("limits", "exact", "normal") == "exact" ? LimitMethod.Exact : LimitMethod.Normal,
                MultipleOf(inputs)))),
        new("t_chart", "chart of the time between rare events",
            [
                new("times", "list of numbers", "time from each event to the next, in days or another unit"),
                new("since", "number", "time since the last event, drawn as an open gap", "left out"),
                BaselinePoints, BaselineFrom, Limits with { Meaning = "exact (exponential), or nelson (transformed to individuals)" },
                Multiple with { Meaning = "for exact limits: at the normal tail of as many standard errors; above 0, at most 6" },
            ],
            RareEventChart.TimesSource,
            """{"times": [286, 948, 536, 124, 816, 729, 4, 143, 431, 8, 2837, 596, 81, 227, 603, 492, 1199, 1214, 2831, 96],"""
                + """ "baseline_points": 20, "limits": "nelson"}""",
            inputs =>
            {
                var times = inputs.Numbers("times", 0, Huge, MostPoints);
                double? since = inputs.Has("since") ? inputs.Number("since", 0, Huge, 0) : null;
                return Chart(inputs.Choice("limits", "exact", "nelson") == "exact"
                    ? RareEventChart.Times(times, since, Baseline(inputs), MultipleOf(inputs))
                    : RareEventChart.TransformedTimes(times, since, Baseline(inputs)));
            }),
        new("cumulative_poisson", "events so far against those expected so far, with the exact interval of their ratio",
            [
                new("observed", "list of integers", "events, one number a point in order"),
                new("expected", "list of numbers", "events expected, fixed beforehand"),
                new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95"),
            ],
            CumulativePoisson.Source,
            """{"observed": [0, 1, 0, 2, 1], "expected": [0.5, 0.6, 0.4, 0.5, 0.6]}""",
            Cumulative),
    ];

    private static ChartBaseline Baseline(ComputeInputs inputs) =>
        new((int)inputs.Integer("baseline_from", 1, MostPoints, 1) - 1, (int)inputs.Integer("baseline_points", 1, MostPoints));

    private static double MultipleOf(ComputeInputs inputs) => inputs.Number("multiple", 1e-6, 6, 3);

    private static LimitMethod Method(ComputeInputs inputs) =>
        inputs.Choice("limits", "exact", "normal", "laney") switch
        {
            "exact" => LimitMethod.Exact,
            "normal" => LimitMethod.Normal,
            _ => LimitMethod.Laney
        };

    internal static JsonObject Chart(ControlChart chart) => new()
    {
        ["method"] = chart.Method,
        ["centre"] = Numbers.Of(chart.Centre),
        ["variation"] = Numbers.Of(chart.Variation),
        ["points"] = new JsonArray([.. chart.Points.Select(Point)]),
        ["beyond"] = new JsonArray([.. chart.Beyond.Select(position => (JsonNode)(position + 1))]),
        ["doubts"] = Doubts(chart.Doubts.Select(ChartCautions.Name), chart.Doubts.Select(ChartCautions.Say)),
        ["caution"] = ChartCautions.ControlChart,
    };

    internal static JsonArray Doubts(IEnumerable<string> names, IEnumerable<string> sentences) =>
        [.. names.Zip(sentences, (name, sentence) => new JsonObject { ["doubt"] = name, ["means"] = sentence })];

    private static JsonObject Point(ControlPoint point) => new()
    {
        ["value"] = Numbers.Of(point.Value),
        ["lower"] = Numbers.Of(point.Lower),
        ["upper"] = Numbers.Of(point.Upper),
        ["baseline"] = point.InBaseline,
        ["open"] = point.Open,
    };

    private static JsonObject Cumulative(ComputeInputs inputs)
    {
        var (observed, expected) =
            (inputs.WholeNumbers("observed", 0, 1_000_000, MostPoints), inputs.Numbers("expected", 0, 1e6, MostPoints));
        if (observed.Length != expected.Length)
            throw inputs.Wrong("expected", $"has {expected.Length} points and observed has {observed.Length}: they must have as many");
        if (observed.Sum() > MostEvents)
            throw inputs.Wrong("observed", $"adds up to more than {MostEvents}");
        return new()
        {
            ["points"] = new JsonArray([.. CumulativePoisson.Accumulate(observed, expected, inputs.Level()).Select(point => new JsonObject
            {
                ["observed"] = point.Observed,
                ["expected"] = Numbers.Of(point.Expected),
                ["ratio"] = Numbers.Of(point.Ratio),
                ["lower"] = Numbers.Of(point.Lower),
                ["upper"] = Numbers.Of(point.Upper),
            })]),
        };
    }
}
