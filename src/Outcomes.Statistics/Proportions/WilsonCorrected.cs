namespace Outcomes.Statistics;

/// <summary>The score interval for a proportion with continuity correction.</summary>
public static class WilsonCorrected
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "wilson_cc";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Newcombe RG. Stat Med 1998;17:857-872, method 4";

    /// <summary>
    /// The proportions p that solve |p − k/n| − 1/(2n) = z √(p(1−p)/n), with k met of n eligible: the formula of <see cref="Wilson"/> at
    /// k − ½ for the lower end and at k + ½ for the upper.
    /// </summary>
    /// <param name="met">Records that met the measure, 0 to <paramref name="eligible"/>.</param>
    /// <param name="eligible">Records judged, at least 1.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1, around those of <see cref="Wilson"/>.</returns>
    /// <remarks>
    /// Assumes independent records with one true proportion. It comes near the exact interval and is as cautious. Edges: 0/n gives a lower
    /// end of 0 and n/n an upper end of 1. Some software leaves the correction out where k is exactly half of n; this does not.
    /// Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static Bounds Interval(long met, long eligible, double level = 0.95)
    {
        Requires.Counts(met, eligible);
        var z = Normal.TwoSided(level);
        return new(met == 0 ? 0 : Lower(met - 0.5, eligible, z), met == eligible ? 1 : Upper(met + 0.5, eligible, z));
    }

    /// <summary>The smaller root, as the product of the roots over the larger one: their difference would lose digits.</summary>
    private static double Lower(double k, double n, double z) =>
        k * k / n / (k + (z * z / 2) + (z * Math.Sqrt((k * (n - k) / n) + (z * z / 4))));

    /// <summary>The larger root, a sum: as 1 less the other side's smaller root it would lose the digits of an end near 0.</summary>
    private static double Upper(double k, double n, double z) =>
        (k + (z * z / 2) + (z * Math.Sqrt((k * (n - k) / n) + (z * z / 4)))) / (n + (z * z));
}
