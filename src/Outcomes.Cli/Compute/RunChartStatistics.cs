using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The statistics of run charts.</summary>
internal static class RunChartStatistics
{
    private const int MostMonths = 600;
    private const int MostUseful = 1_000;
    private const int MostJoint = 100;

    /// <summary>Stated with every result that rests on it, so that a chance can be made again.</summary>
    private const long Seed = 1;

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("run_chart", "run chart of a monthly proportion: median of a frozen baseline, longest run, crossings and their limits",
            [
                new("met", "list of integers", "records that met the measure, one number a month in order"),
                new("eligible", "list of integers", "records judged, one number a month; 0 is a gap"),
                new("start", "text", "the first month, such as 2023-04", "2000-01"),
                new("baseline_from", "text", "the month where the baseline starts", "the first month"),
                new("baseline_months", "integer", "months in the baseline, at least 1, cut to the series", "12"),
                new("minimum_eligible", "number", "median of eligible cases a point below which nothing is tested", "10"),
                new("span", "text", "auto (by quarter when cases are too few), month or quarter", "auto"),
                new("seed", "integer", "seed of the simulated chance, used where fair coins do not hold; 0 or more", $"{Seed}"),
                new("replicates", "integer", "charts simulated where fair coins do not hold, 1 to 1000000", "2000"),
            ],
            RunCharts.Source,
            """{"start": "2025-01", "met": [8, 9, 7, 10, 9, 8, 11, 12, 11, 12, 12, 11], "eligible": [12, 13, 11, 14, 12, 12, 13,"""
                + """ 14, 12, 13, 13, 12]}""",
            RunChart),
        new("longest_run_and_crossings",
            "limits for the longest run and the crossings of n useful points, with the exact chances that fair coins pass them",
            [
                new("useful", "integer", "points off the median, 1 to 1000"),
                new("run_limit", "integer", "a longer run is a signal", "round(log2 n + 3)"),
                new("crossings_limit", "integer", "fewer crossings are a signal", "5 % quantile of Binomial(n - 1, 1/2)"),
                new("joint", "true or false", "adds the joint distribution: a row for each number of crossings from 0, "
                    + "a column for each longest run from 1; at most 100 points", "false"),
            ],
            $"{LongestRunAndCrossings.LimitsSource}; {LongestRunAndCrossings.Source}",
            """{"useful": 24}""",
            Chances),
    ];

    private static JsonObject RunChart(ComputeInputs inputs)
    {
        var counts = inputs.Counts(MostMonths);
        var start = inputs.Month("start", new Month(2000, 1));
        var from = inputs.Month("baseline_from", start).MonthsSince(start);
        if (from < 0)
            throw inputs.Wrong("baseline_from", $"is before the start, {start}");
        var seed = inputs.Integer("seed", 0, long.MaxValue, Seed);
        var chart = RunCharts.Analyse(new(start.Year, start.Number, counts), new()
        {
            BaselineFrom = from,
            BaselineMonths = (int)inputs.Integer("baseline_months", 1, MostMonths, 12),
            MinimumEligible = inputs.Number("minimum_eligible", 0, ComputeInputs.MostRecords, 10),
            Span = inputs.Choice("span", "auto", "month", "quarter") switch
            {
                "month" => PointSpan.Month,
                "quarter" => PointSpan.Quarter,
                _ => null
            },
            Uniform = SplitMix64.Uniform((ulong)seed),
            Replicates = (int)inputs.Integer("replicates", 1, 1_000_000, 2_000),
        });
        return new()
        {
            ["span"] = chart.Span == PointSpan.Month ? "month" : "quarter",
            ["points"] = new JsonArray([.. chart.Points.Select(point => Point(point, start))]),
            ["baseline"] = new JsonObject
            {
                ["from"] = start.AddMonths(chart.Baseline.From).ToString(),
                ["months"] = chart.Baseline.Months
            },
            ["median"] = Numbers.Of(chart.Median),
            ["useful"] = chart.Useful,
            ["longest_run"] = chart.LongestRun,
            ["run_limit"] = chart.RunLimit,
            ["crossings"] = chart.Crossings,
            ["crossings_limit"] = chart.CrossingsLimit,
            ["tested"] = chart.Untested == Untested.No,
            ["why_untested"] = Why(chart.Untested),
            ["signal"] = chart.Signals,
            ["chance"] = Numbers.Of(chart.Chance),
            ["chance_method"] = chart.ChanceMethod == ChanceMethod.FairCoin ? "fair_coin" : "simulated",
            ["seed"] = chart.ChanceMethod == ChanceMethod.Simulated ? seed : null,
            ["fair_coin_holds"] = RunCharts.FairCoinHolds(chart),
        };
    }

    private static JsonObject Point(RunChartPoint point, Month start) => new()
    {
        ["from"] = start.AddMonths(point.Start).ToString(),
        ["months"] = point.Months,
        ["met"] = point.Count.Met,
        ["eligible"] = point.Count.Eligible,
        ["value"] = Numbers.Of(point.Value),
    };

    private static string? Why(Untested reason) => reason switch
    {
        Untested.No => null,
        Untested.FewPoints => "few_points",
        Untested.FewCases => "few_cases",
        Untested.MedianAtEdge => "median_at_edge",
        Untested.NoBaseline => "no_baseline",
        _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, "a reason without a word"),
    };

    private static JsonObject Chances(ComputeInputs inputs)
    {
        var joint = inputs.Flag("joint");
        var useful = (int)inputs.Integer("useful", 1, joint ? MostJoint : MostUseful);
        var run = (int)inputs.Integer("run_limit", 0, MostUseful, LongestRunAndCrossings.RunLimit(useful));
        var crossings = (int)inputs.Integer("crossings_limit", 0, MostUseful, LongestRunAndCrossings.CrossingsLimit(useful));
        var result = new JsonObject
        {
            ["useful"] = useful,
            ["run_limit"] = run,
            ["crossings_limit"] = crossings,
            ["chance_of_longer_run"] = Numbers.Of(LongestRunAndCrossings.Chance(useful, run, 0)),
            ["chance_of_fewer_crossings"] = Numbers.Of(LongestRunAndCrossings.Chance(useful, useful, crossings)),
            ["chance_of_either"] = Numbers.Of(LongestRunAndCrossings.Chance(useful, run, crossings)),
        };
        if (joint)
            result["joint"] = Table(LongestRunAndCrossings.Joint(useful));
        return result;
    }

    private static JsonArray Table(double[,] joint) =>
        [.. Enumerable.Range(0, joint.GetLength(0)).Select(crossings =>
            new JsonArray([.. Enumerable.Range(1, joint.GetLength(1) - 1).Select(longest => Numbers.Of(joint[crossings, longest]))]))];
}
