using Outcomes.Records;
using Outcomes.Reporting.Model;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What a run chart says, in words: evidence of a change in time, never whether that is good.</summary>
public static class RunChartWording
{
    public const string Source =
        "Anhøj J, Olesen AV. Run charts revisited: a simulation study of run chart rules for detection of non-random variation in " +
        "health care processes. PLoS ONE 2014;9(11):e113825";

    /// <summary>A few words, for the summary table.</summary>
    public static string Brief(RunChart chart, Month first)
    {
        ArgumentNullException.ThrowIfNull(chart);
        if (chart.Untested != Untested.No)
            return $"not tested: {Why(chart.Untested)}";
        if (!chart.Signals)
            return "no signal of change";
        var run = Run(chart, first);
        return (chart.LongRun, chart.FewCrossings) switch
        {
            (true, true) => $"signal: {run}, and few crossings ({chart.Crossings})",
            (true, false) => $"signal: {run}",
            _ => $"signal: few crossings ({chart.Crossings}, at least {chart.CrossingsLimit} expected)",
        };
    }

    /// <summary>The verdict alone, for beside a drawing that shows the rest.</summary>
    public static string Verdict(RunChart chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        return chart.Untested != Untested.No ? $"not tested: {Why(chart.Untested)}"
            : !chart.Signals ? "no signal of change"
            : chart.LongRun ? "signal of change"
            : $"signal of change: {Wording.Some(chart.Crossings, "crossing")} of the median, at least {chart.CrossingsLimit} expected";
    }

    /// <summary>The test in full: what was found, against which limits, and how often chance alone would do it.</summary>
    public static string Full(RunChart chart, Month first)
    {
        ArgumentNullException.ThrowIfNull(chart);
        if (chart.Median is null)
            return $"There is no median to compare with: {Why(chart.Untested)}.";
        var found = $"{Wording.Some(chart.Useful, "useful point")} (off the median), longest run {chart.LongestRun}, " +
            $"{Wording.Some(chart.Crossings, "crossing")}";
        if (chart.Untested != Untested.No)
            return $"Not tested, because of {Why(chart.Untested)}: with {found}, the rules would mislead.";
        var limits = $"A run longer than {chart.RunLimit} or fewer crossings than {chart.CrossingsLimit} is a signal of change.";
        var verdict = chart.Signals ? $"Signal: {Signal(chart, first)}. " : "No signal. ";
        return $"{verdict}{char.ToUpperInvariant(found[0])}{found[1..]}. {limits}{Chance(chart)}";
    }

    private static string Signal(RunChart chart, Month first) => (chart.LongRun, chart.FewCrossings) switch
    {
        (true, true) => $"{Run(chart, first)}, and fewer crossings than expected",
        (true, false) => Run(chart, first),
        _ => "fewer crossings of the median than expected",
    };

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
        ? $" A process that does not change shows one of the two in {Wording.Chance(chance)} of such charts (exact, each point a fair coin)."
        : $" A process that does not change shows one of the two in {Wording.Chance(chance)} of such charts (simulated at these denominators).";

    private static string Why(Untested untested) => untested switch
    {
        Untested.FewPoints => "fewer than ten useful points",
        Untested.FewCases => "too few cases a point, even by quarter",
        Untested.MedianAtEdge => $"a median at 0 or 100{Wording.Space}%",
        Untested.NoBaseline => "no baseline months with cases",
        _ => "",
    };
}
