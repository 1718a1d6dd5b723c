namespace Outcomes.Statistics;

/// <summary>The interval of z²/2 added successes and failures for a proportion.</summary>
public static class AgrestiCoull
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "agresti_coull";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Agresti A, Coull BA. Am Stat 1998;52:119-126";

    /// <summary>p̃ ± z √(p̃ (1 − p̃) / ñ) with ñ = n + z² and p̃ = (k + z²/2) / ñ, k met of n eligible; cut to 0 and 1.</summary>
    /// <param name="met">Records that met the measure, 0 to <paramref name="eligible"/>.</param>
    /// <param name="eligible">Records judged, at least 1.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1; they hold the ends of <see cref="Wilson"/> within them, about the same centre.</returns>
    /// <remarks>
    /// Assumes independent records with one true proportion. Easy to work by hand, wide near 0 and 1. The variant that adds two of each,
    /// whatever the level, is another interval. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static Bounds Interval(long met, long eligible, double level = 0.95)
    {
        var (lower, upper) = Uncut(met, eligible, level);
        return new(Math.Max(0, lower), Math.Min(1, upper));
    }

    /// <summary>The formula alone: it leaves 0 to 1 when few or nearly all met the measure.</summary>
    internal static Bounds Uncut(long met, long eligible, double level)
    {
        Requires.Counts(met, eligible);
        var z = Normal.TwoSided(level);
        var n = eligible + (z * z);
        var p = (met + (z * z / 2)) / n;
        var half = z * Math.Sqrt(p * (1 - p) / n);
        return new(p - half, p + half);
    }
}
