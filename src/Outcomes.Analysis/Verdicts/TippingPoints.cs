using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Finds how many missing records would turn a conclusion.</summary>
public static class TippingPoints
{
    /// <summary>
    /// The tipping point of a current signal: missing records of the months since the change are counted, month by month, until the
    /// monthly test would no longer give it. Null where not even all of them would do.
    /// </summary>
    /// <param name="measure">The measure.</param>
    /// <param name="counts">Its months, history first, as they were tested.</param>
    /// <param name="change">The signal that the verdict tells.</param>
    /// <param name="from">The first of the months.</param>
    /// <param name="history">Months of history.</param>
    /// <param name="options">As the test was run.</param>
    public static TippingPoint? Find(
        Measure measure, ImmutableArray<Count> counts, VerdictChange change, Month from, int history, MonthlyTestOptions options)
    {
        ArgumentNullException.ThrowIfNull(change);
        var start = Math.Max(0, change.Likeliest.MonthsSince(from));
        var missing = counts[start..].Sum(count => count.Missing);
        var failures = !change.ForTheWorse;
        return Least(missing, IsTurned) is { } least ? new(least, missing, failures) : null;

        bool IsTurned(long records)
        {
            var events = MonthlyReading.Events(counts, measure).ToArray();
            foreach (var (month, added) in Spread(counts, start, records))
                events[month] += new EventCount(failures ? added : 0, added);
            return MonthlyTest.Run([.. events], history, options).CurrentSignal?.ForTheWorse != change.ForTheWorse;
        }
    }

    /// <summary>
    /// The tipping point of a planned evaluation that shows a difference: missing records of the months after it are counted until its
    /// interval holds 0. Null where not even all of them would do.
    /// </summary>
    /// <param name="before">Events of the months before.</param>
    /// <param name="after">Events of the months after.</param>
    /// <param name="missing">Missing records of each month after.</param>
    /// <param name="forTheWorse">Whether the evaluation shows more unwelcome events.</param>
    /// <param name="level">Level of its interval.</param>
    public static TippingPoint? Find(
        IReadOnlyList<EventCount> before, IReadOnlyList<EventCount> after, IReadOnlyList<Count> missing, bool forTheWorse, double level)
    {
        ArgumentNullException.ThrowIfNull(after);
        ImmutableArray<Count> counts = [.. missing];
        var total = counts.Sum(count => count.Missing);
        return Least(total, IsTurned) is { } least ? new(least, total, !forTheWorse) : null;

        bool IsTurned(long records)
        {
            var events = after.ToArray();
            foreach (var (month, added) in Spread(counts, 0, records))
                events[month] += new EventCount(forTheWorse ? 0 : added, added);
            return PlannedComparison.Compare(before, events, level).State != (forTheWorse ? PlannedState.Higher : PlannedState.Lower);
        }
    }

    // Each record more speaks against the conclusion, so that halving finds the least number.
    private static long? Least(long missing, Func<long, bool> isTurned)
    {
        if (missing == 0 || !isTurned(missing))
            return null;
        var (no, yes) = (0L, missing);
        while (yes - no > 1)
        {
            var middle = (no + yes) / 2;
            if (isTurned(middle))
                yes = middle;
            else
                no = middle;
        }

        return yes;
    }

    // The latest months first: those that a monthly report is asked about.
    private static IEnumerable<(int Month, int Added)> Spread(ImmutableArray<Count> counts, int start, long records)
    {
        for (var month = counts.Length - 1; month >= start && records > 0; month--)
        {
            var added = (int)Math.Min(records, counts[month].Missing);
            records -= added;
            if (added > 0)
                yield return (month, added);
        }
    }
}
