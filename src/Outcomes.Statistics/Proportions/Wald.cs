namespace Outcomes.Statistics;

/// <summary>The textbook normal interval for a proportion. <b>Only to reproduce a paper that printed it.</b></summary>
public static class Wald
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "wald";

    /// <summary>The stable name with continuity correction.</summary>
    public const string CorrectedMethod = "wald_cc";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Newcombe RG. Stat Med 1998;17:857-872, methods 1 and 2, as the ones not to use";

    /// <summary>k/n ± z √(k(n−k)/n³), cut to 0 and 1.</summary>
    /// <param name="met">Records that met the measure, 0 to <paramref name="eligible"/>.</param>
    /// <param name="eligible">Records judged, at least 1.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1.</returns>
    /// <remarks>
    /// Covers far less than its level unless many met the measure and many did not; for none or all it has no width at all.
    /// Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static Bounds Interval(long met, long eligible, double level = 0.95) => Cut(Uncut(met, eligible, level, 0));

    /// <summary>The same with 1/(2n) added to each side.</summary>
    /// <inheritdoc cref="Interval" path="/param"/>
    /// <returns>Fractions from 0 to 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static Bounds Corrected(long met, long eligible, double level = 0.95) => Cut(Uncut(met, eligible, level, 0.5));

    /// <summary>The formula alone, with a correction in records: it leaves 0 to 1.</summary>
    internal static Bounds Uncut(long met, long eligible, double level, double correction)
    {
        Requires.Counts(met, eligible);
        double n = eligible, p = met / n;
        var half = (Normal.TwoSided(level) * Math.Sqrt(p * (1 - p) / n)) + (correction / n);
        return new(p - half, p + half);
    }

    private static Bounds Cut(Bounds bounds) => new(Math.Max(0, bounds.Lower), Math.Min(1, bounds.Upper));
}
