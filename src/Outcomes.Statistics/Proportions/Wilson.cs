namespace Outcomes.Statistics;

/// <summary>The score interval for a proportion: the house default.</summary>
public static class Wilson
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "wilson";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Wilson EB. J Am Stat Assoc 1927;22:209-212; Newcombe RG. Stat Med 1998;17:857-872, method 3";

    /// <summary>
    /// The interval of all true proportions that a score test at this level would not reject, without continuity correction:
    /// (k + z²/2 ± z √(k(n−k)/n + z²/4)) / (n + z²), with k met of n eligible.
    /// </summary>
    /// <param name="met">Records that met the measure, 0 to <paramref name="eligible"/>.</param>
    /// <param name="eligible">Records judged, at least 1.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1, with lower ≤ met/eligible ≤ upper.</returns>
    /// <remarks>
    /// Assumes independent records with one true proportion: cases clustered by operator or by night make it too narrow.
    /// On average over proportions it covers close to its level, though for a few true proportions near 0 or 1 it covers less.
    /// Edges: 0/n gives a lower end of exactly 0 and n/n an upper end of exactly 1, where the formula alone misses by a rounding error.
    /// Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static Bounds Interval(long met, long eligible, double level = 0.95)
    {
        Requires.Counts(met, eligible);
        var z = Normal.TwoSided(level);
        double k = met, n = eligible;
        var scale = 1 / (n + (z * z));
        var centre = (k + (z * z / 2)) * scale;
        var half = z * Math.Sqrt((k * (n - k) / n) + (z * z / 4)) * scale;
        var value = k / n;
        // Rounding may carry an end past the value by 1e-16 when n is huge or the level tiny.
        return new(
            met == 0 ? 0 : Math.Clamp(centre - half, 0, value),
            met == eligible ? 1 : Math.Clamp(centre + half, value, 1));
    }
}
