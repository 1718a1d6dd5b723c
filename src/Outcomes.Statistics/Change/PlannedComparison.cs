namespace Outcomes.Statistics;

/// <summary>What the planned look at a declared change says.</summary>
public enum PlannedState
{
    /// <summary>Fewer than 40 cases on a side, or no event on either.</summary>
    TooFew,

    /// <summary>The interval lies below 0: the event became rarer.</summary>
    Lower,

    /// <summary>The interval lies above 0: the event became more frequent.</summary>
    Higher,

    /// <summary>The interval holds 0.</summary>
    Unclear,
}

/// <summary>The planned look at a declared change.</summary>
/// <param name="State">What it says.</param>
/// <param name="Before">Events and cases before.</param>
/// <param name="After">Events and cases after.</param>
/// <param name="Difference">After minus before with its interval; null when too few.</param>
public sealed record PlannedResult(PlannedState State, EventCount Before, EventCount After, VaryingDifferenceEstimate? Difference);

/// <summary>One comparison of the months before and after a declared change, made once, in the month planned for it.</summary>
public static class PlannedComparison
{
    /// <summary>Fewer cases on a side are too few to judge.</summary>
    public const int LeastCases = 40;

    /// <summary>
    /// Compares the months on both sides of a change by <see cref="VaryingDifference"/>. Call it once, for the planned months only:
    /// the error it keeps is that of a single look.
    /// </summary>
    /// <param name="before">Whole months before the change.</param>
    /// <param name="after">Whole months after it; the month of the change is on neither side.</param>
    /// <param name="level">Two-sided level, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static PlannedResult Compare(
        IReadOnlyList<EventCount> before, IReadOnlyList<EventCount> after, double level = 0.95)
    {
        Requires.Level(level);
        var (past, since) = (MonthDispersion.Sum(before), MonthDispersion.Sum(after));
        if (past.Cases < LeastCases || since.Cases < LeastCases || past.Events + since.Events == 0)
            return new(PlannedState.TooFew, past, since, null);
        var difference = VaryingDifference.Estimate(before, after, level)!;
        var state = difference.Upper < 0 ? PlannedState.Lower : difference.Lower > 0 ? PlannedState.Higher : PlannedState.Unclear;
        return new(state, past, since, difference);
    }
}
