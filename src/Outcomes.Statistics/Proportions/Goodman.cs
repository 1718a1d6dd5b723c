using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>Intervals for several shares of one whole that hold all at once.</summary>
public static class Goodman
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "goodman";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Goodman LA. Technometrics 1965;7:247-254";

    /// <summary>
    /// The score interval of <see cref="Wilson"/> for each category at the level 1 − α/k, with k categories: by Bonferroni's inequality
    /// all of them hold together with at least about 1 − α.
    /// </summary>
    /// <param name="counts">Records in each category, at least two categories and at least one record. Each record is in exactly
    /// one.</param>
    /// <param name="level">Level for all intervals together, above 0 and below 1.</param>
    /// <returns>One interval a category in the given order, fractions from 0 to 1.</returns>
    /// <remarks>
    /// Assumes independent records. With two categories the two intervals mirror each other at the level 1 − α/2, as published.
    /// Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count is negative, too few, or the level is out of range.</exception>
    public static ImmutableArray<Bounds> Intervals(IReadOnlyList<long> counts, double level = 0.95)
    {
        var total = Requires.Categories(counts);
        Requires.Level(level);
        return [.. counts.Select(count => Wilson.Interval(count, total, 1 - ((1 - level) / counts.Count)))];
    }
}
