using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>Which part of the monthly test gave a signal.</summary>
public enum SignalLeg
{
    /// <summary>The level filter.</summary>
    Filter,

    /// <summary>The early test of the first reports.</summary>
    Early,
}

/// <summary>One report of a measure.</summary>
/// <param name="Month">0-based month, history first.</param>
/// <param name="Count">Its events and cases.</param>
/// <param name="ChanceWorse">Chance that the last change since the anchor was for the worse, given the months so far.</param>
/// <param name="ChanceBetter">Chance that it was for the better.</param>
/// <param name="LogOddsWorse">The first chance in log odds, which the limit is asked of.</param>
/// <param name="LogOddsBetter">The second.</param>
public readonly record struct MonthlyReport(
    int Month, EventCount Count, double ChanceWorse, double ChanceBetter, double LogOddsWorse, double LogOddsBetter)
{
    /// <summary>ln S of the early leg; null where it has no say.</summary>
    public double? EarlyLogOdds { get; init; }

    /// <summary>The part of S that speaks for a change for the worse.</summary>
    public double? EarlyWorseShare { get; init; }

    /// <summary>
    /// Events that the month's cases would have had at the level at the end of the history; with case mix, given their own chances.
    /// </summary>
    public double Expected { get; init; }
}

/// <summary>When a change may have been: 0-based months, history first, before which the level moved.</summary>
/// <param name="Likeliest">The likeliest month.</param>
/// <param name="From">First month of the range.</param>
/// <param name="To">Last month of the range.</param>
/// <param name="Chance">Chance that the change was in the range, at least 0.8, given that there was one this way.</param>
public sealed record MonthsOfChange(int Likeliest, int From, int To, double Chance);

/// <summary>A signal, as it stood in the month when it was given.</summary>
/// <param name="Month">0-based month of the report, history first.</param>
/// <param name="ForTheWorse">The way of the change.</param>
/// <param name="Leg">What gave it.</param>
/// <param name="Start">When the change may have been, by the filter.</param>
/// <param name="StillBeyond">
/// One number a report from the signal's on, at most <see cref="Reports"/>: the chance, given the months up to that report, that its level
/// is still beyond (above for worse, below for better) the level of the month before the range of its start.
/// </param>
public sealed record MonthlySignal(
    int Month, bool ForTheWorse, SignalLeg Leg, MonthsOfChange Start, ImmutableArray<double> StillBeyond)
{
    /// <summary>Reports for which a signal is current, its own included.</summary>
    public const int Reports = 12;

    /// <summary>It ends early with the first later report at which the level has less than this chance of being beyond.</summary>
    public const double LeastBeyond = 0.8;

    /// <summary>Whether the signal is current at a month: not yet 12 reports old, and never since below 80 %.</summary>
    /// <param name="month">0-based month, history first, not after the last report.</param>
    public bool IsCurrentAt(int month) =>
        month >= Month && month - Month < StillBeyond.Length
            && StillBeyond.Take(month - Month + 1).Skip(1).All(chance => chance >= LeastBeyond);
}

/// <summary>The level of one month, given all months.</summary>
/// <param name="Median">Median of the event rate.</param>
/// <param name="Mean">Mean of the event rate.</param>
/// <param name="Likely80">The range that holds it with 80 %.</param>
/// <param name="ChanceOfRise">Chance that the level rose just before the month.</param>
/// <param name="ChanceOfFall">Chance that it fell.</param>
public readonly record struct MonthlyLevel(double Median, double Mean, Bounds Likely80, double ChanceOfRise, double ChanceOfFall);

/// <summary>The level now: the event rate of the last month, given the months so far.</summary>
/// <param name="Median">Median.</param>
/// <param name="Mean">Mean.</param>
/// <param name="Likely80">10th to 90th centile.</param>
/// <param name="Likely95">2.5th to 97.5th centile.</param>
public sealed record LevelEstimate(double Median, double Mean, Bounds Likely80, Bounds Likely95);

/// <summary>How the level compares with that of an earlier month.</summary>
/// <param name="ChanceWorse">Chance that it is higher.</param>
/// <param name="ChanceBetter">Chance that it is lower; the rest: the same.</param>
public readonly record struct LevelComparison(double ChanceWorse, double ChanceBetter);

/// <summary>The monthly test of a measure.</summary>
/// <param name="HistoryMonths">Months of history.</param>
/// <param name="History">Events and cases of the history.</param>
/// <param name="Limits">Fixed when the history closed; null when too few to judge: then everything below is empty or null.</param>
/// <param name="Reports">One a report.</param>
/// <param name="Signals">In order; each counts changes since the one before.</param>
/// <param name="Levels">One a month, history first.</param>
public sealed record MonthlyTestResult(
    int HistoryMonths, EventCount History, MonthlyLimits? Limits, ImmutableArray<MonthlyReport> Reports,
    ImmutableArray<MonthlySignal> Signals, ImmutableArray<MonthlyLevel> Levels)
{
    /// <summary>Less than 12 months or 40 cases of history.</summary>
    public bool IsTooFew => Limits is null;

    /// <summary>In force after the last report: lower after a signal where the options say so.</summary>
    public MonthlyLimits? LimitsNow { get; init; }

    /// <summary>The level after the last month.</summary>
    public LevelEstimate? Current { get; init; }

    /// <summary>The level after the last month of the history, given the history.</summary>
    public LevelEstimate? AtHistoryEnd { get; init; }

    /// <summary>Now against 12 months ago; null in the first year.</summary>
    public LevelComparison? ThanYearAgo { get; init; }

    /// <summary>Now against the end of the history.</summary>
    public LevelComparison? ThanHistory { get; init; }

    /// <summary>Posterior mean of the intraclass correlation of the cases of a month, 0 to 1.</summary>
    public double? Variation { get; init; }

    /// <summary>Chance, given the history, that it held no change.</summary>
    public double? HistoryUnchanged { get; init; }

    /// <summary>The last signal, if it is current at the last month.</summary>
    public MonthlySignal? CurrentSignal =>
        Signals is [.., var last] && last.IsCurrentAt(HistoryMonths + Reports.Length - 1) ? last : null;
}
