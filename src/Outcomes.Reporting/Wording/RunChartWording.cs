using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What a run chart says, in words: evidence of a change in time, never whether that is good.</summary>
public static class RunChartWording
{
    /// <summary>A few words, for the summary table.</summary>
    public static string Brief(RunChart chart, Month first)
    {
        ArgumentNullException.ThrowIfNull(chart);
        if (chart.Untested != Untested.No)
            return $"not tested: {Why(chart)}";
        if (!chart.Signals)
            return "no signal of change";
        var run = Run(chart, first);
        return (chart.LongRun, chart.FewCrossings) switch
        {
            (true, true) => $"signal: {run}; {Crossings(chart)}",
            (true, false) => $"signal: {run}",
            _ => $"signal: {Crossings(chart)}",
        };
    }

    /// <summary>The verdict alone, for beside a drawing that shows the rest.</summary>
    public static string Verdict(RunChart chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        return chart.Untested != Untested.No ? $"not tested: {Why(chart)}"
            : !chart.Signals ? "no signal of change"
            : chart.LongRun ? "signal of change"
            : $"signal of change: {Crossings(chart)}";
    }

    /// <summary>The test in full: what was found, against which limits, and how often chance alone would do it.</summary>
    public static string Full(RunChart chart, Month first)
    {
        ArgumentNullException.ThrowIfNull(chart);
        if (chart.Median is null)
            return $"Not tested ({Why(chart)}): there is no median to compare with.";
        var found = $"{Wording.Some(chart.Useful, "useful point")} (off the median), longest run {chart.LongestRun}, " +
            $"{Wording.Some(chart.Crossings, "crossing")}";
        if (chart.Untested != Untested.No)
            return $"Not tested ({Why(chart)}): the rules would mislead. {Capital(found)}.";
        var limits = $"A run longer than {chart.RunLimit} or fewer crossings than {chart.CrossingsLimit} is a signal of change.";
        var verdict = chart.Signals ? $"Signal: {Signal(chart, first)}. " : "No signal. ";
        return $"{verdict}{Capital(found)}. {limits}{Chance(chart)}";
    }

    private static string Signal(RunChart chart, Month first) => (chart.LongRun, chart.FewCrossings) switch
    {
        (true, true) => $"{Run(chart, first)}, and few crossings",
        (true, false) => Run(chart, first),
        _ => "few crossings of the median",
    };

    private static string Crossings(RunChart chart) =>
        $"{Wording.Some(chart.Crossings, "crossing")} where at least {chart.CrossingsLimit} are expected";

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Run(RunChart chart, Month first)
    {
        var run = LongestRun.Of(chart);
        if (run is not { } found)
            return $"a run of {chart.LongestRun}";
        var from = first.AddMonths(chart.Points[found.First].Start);
        var last = chart.Points[found.Last];
        var to = first.AddMonths(last.Start + last.Months - 1);
        return $"a run of {chart.LongestRun} points {(found.Above ? "above" : "below")} the median, {Wording.Span(from, to)}";
    }

    private static string Chance(RunChart chart) => chart.Chance is not { } chance ? "" : chart.ChanceMethod == ChanceMethod.FairCoin
        ? $" A process that does not change shows one of the two in {Wording.Chance(chance)} of such charts (exact, "
            + "each point a fair coin)."
        : $" A process that does not change shows one of the two in {Wording.Chance(chance)} of such charts (simulated at "
            + "these denominators).";

    private static string Why(RunChart chart) => chart.Untested switch
    {
        Untested.FewPoints => "fewer than ten useful points",
        Untested.FewCases => chart.Span == PointSpan.Quarter ? "too few cases a month, so it is drawn by quarter" : "too few cases a point",
        Untested.MedianAtEdge => $"the median is at 0 or 100{Wording.Space}%",
        Untested.NoBaseline => "no baseline month has cases",
        _ => "",
    };
}
