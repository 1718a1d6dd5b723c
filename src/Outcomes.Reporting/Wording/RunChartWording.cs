using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What stands under a run chart beside its verdict: how it is drawn, and that a run is no verdict.</summary>
public static class RunChartWording
{
    /// <summary>What the marks of a run chart mean.</summary>
    public const string Key = "Points: one month or quarter, n below. Bars: 95 % intervals. Hollow: fewer than 5 cases, or provisional. No "
        + "point: no cases. Straight line: median of the baseline, fixed beforehand. Heavy line: a run on one side of it. Grey line: the "
        + "likeliest level by the monthly test, with its 80 % range.";

    /// <summary>Said in place of a chart.</summary>
    public const string TooRare =
        "No chart by month: fewer than one event a quarter is expected. Counts by month are in tables/counts.csv.";

    /// <summary>A sentence or two; empty where there is nothing to explain.</summary>
    public static string Note(RunChart chart, Month first)
    {
        ArgumentNullException.ThrowIfNull(chart);
        var drawn = chart.Span == PointSpan.Quarter ? "Drawn by quarter: months have too few cases." : "";
        return chart.Signals ? $"{drawn} {Rule(chart, first)}".TrimStart() : drawn;
    }

    /// <summary>The run that met the rule, in a few words; empty without one.</summary>
    public static string Run(RunChart chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        return chart.LongRun && LongestRun.Of(chart) is { } run
            ? $"run of {chart.LongestRun} {(run.Above ? "above" : "below")} the median: no verdict" : "";
    }

    // A rule that is looked at on every chart and every month is met by chance somewhere: its chance goes with it.
    private static string Rule(RunChart chart, Month first)
    {
        var what = chart.LongRun ? LongRun(chart, first)
            : $"{Wording.Some(chart.Crossings, "crossing")} of the median, where at least {chart.CrossingsLimit} are usual,";
        var chance = chart.Chance is { } known
            ? $"; {Wording.Bare(known, 100)} of 100 stable charts show as much" : "";
        return $"{what} {(chart.LongRun || chart.Crossings == 1 ? "is" : "are")} no verdict{chance}.";
    }

    private static string LongRun(RunChart chart, Month first)
    {
        if (LongestRun.Of(chart) is not { } found)
            return $"A run of {chart.LongestRun}";
        var (from, last) = (first.AddMonths(chart.Points[found.First].Start), chart.Points[found.Last]);
        return $"A run of {chart.LongestRun} points {(found.Above ? "above" : "below")} the median "
            + $"({Wording.Span(from, first.AddMonths(last.Start + last.Months - 1))})";
    }
}
