namespace Outcomes.Statistics;

/// <summary>The cases of one month, and in how many of them the unwelcome event happened.</summary>
/// <param name="Events">Cases with the event; fewer is better.</param>
/// <param name="Cases">Cases judged; events are never more.</param>
public readonly record struct EventCount(int Events, int Cases)
{
    public static EventCount operator +(EventCount left, EventCount right) =>
        new(left.Events + right.Events, left.Cases + right.Cases);

    /// <summary>The sum of two counts.</summary>
    public static EventCount Add(EventCount left, EventCount right) => left + right;

    /// <summary>The events of a measure's count: its failures, or its successes where meeting the measure is unwelcome.</summary>
    /// <param name="count">Met and eligible; missing records take no part.</param>
    /// <param name="metIsUnwelcome">Whether meeting the measure is the event.</param>
    /// <exception cref="ArgumentOutOfRangeException">The count is impossible.</exception>
    public static EventCount From(Count count, bool metIsUnwelcome)
    {
        if (count.Eligible < 0 || count.Met < 0 || count.Met > count.Eligible)
            throw new ArgumentOutOfRangeException(nameof(count), count, "met lies between 0 and eligible");
        return new(checked((int)(metIsUnwelcome ? count.Met : count.Eligible - count.Met)), checked((int)count.Eligible));
    }
}
