using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>What can be said of a measure. There is no state in between.</summary>
public enum ChangeState
{
    TooFewToJudge,
    NoSignOfChange,
    ChangeSignal,
}

/// <summary>One report of a measure.</summary>
/// <param name="Count">The month's count.</param>
/// <param name="LogOdds">ln S after this month; null when too few to judge.</param>
/// <param name="WorseShare">The part of S that speaks for a change for the worse, 0 to 1; null when too few to judge.</param>
/// <param name="State">Once a signal, a signal ever after.</param>
public readonly record struct ChangeMonth(Count Count, double? LogOdds, double? WorseShare, ChangeState State)
{
    /// <summary>
    /// Bad events that the month's cases would have at the history's rate, given their case mix; null where that is not followed.
    /// </summary>
    public double? Expected { get; init; }
}

/// <summary>When a change may have started, as 0-based reports.</summary>
/// <param name="Likeliest">The report with the largest posterior probability.</param>
/// <param name="From">First report of the range.</param>
/// <param name="To">Last report of the range.</param>
/// <param name="Chance">Posterior probability that the start lies in the range, at least 0.8, given that there was a change that
/// way.</param>
public sealed record ChangeStart(int Likeliest, int From, int To, double Chance);

/// <summary>The signal of a measure, as it stood in the month when it was first given.</summary>
/// <param name="Report">0-based report of the signal.</param>
/// <param name="ForTheWorse">The way of the change, by the larger part of S.</param>
/// <param name="Start">When it may have started.</param>
/// <param name="Since">
/// Provisional proportion met from the likeliest start to the signal, with its Wilson interval. It exaggerates, since the signal chose its
/// months. Null when no case was eligible.
/// </param>
/// <param name="After">Proportion met in the months after the signal, which nothing chose; null before there are any cases.</param>
public sealed record Change(int Report, bool ForTheWorse, ChangeStart Start, Estimate? Since, Estimate? After);

/// <summary>The change odds of a measure, history and reports.</summary>
/// <param name="State">The state after the last report.</param>
/// <param name="HistoryMonths">Months of history.</param>
/// <param name="History">The history's count.</param>
/// <param name="Limit">What ln S must reach for a signal, fixed by the history; null when too few to judge.</param>
/// <param name="Months">One for each report.</param>
/// <param name="Change">The first signal; null when there is none.</param>
/// <param name="Variation">Posterior mean of the intraclass correlation of months, 0 to 1; null when too few to judge.</param>
public sealed record ChangeReading(
    ChangeState State, int HistoryMonths, Count History, double? Limit, ImmutableArray<ChangeMonth> Months,
    Change? Change, double? Variation);
