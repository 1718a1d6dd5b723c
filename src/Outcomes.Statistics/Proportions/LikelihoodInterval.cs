namespace Outcomes.Statistics;

/// <summary>The likelihood-ratio interval for a proportion.</summary>
public static class LikelihoodInterval
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "likelihood";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Newcombe RG. Stat Med 1998;17:857-872, method 7";

    /// <summary>
    /// The proportions p at which 2 (k ln(k/(np)) + (n − k) ln((n − k)/(n(1 − p)))) = z²: twice the log of the likelihood ratio
    /// against k/n, with k met of n eligible.
    /// </summary>
    /// <param name="met">Records that met the measure, 0 to <paramref name="eligible"/>.</param>
    /// <param name="eligible">Records judged, at least 1.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1.</returns>
    /// <remarks>
    /// Assumes independent records with one true proportion. The same on every scale of p. When none or all met the measure it is too
    /// short: closed forms 0 to 1 − e^(−z²/2n), and e^(−z²/2n) to 1. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static Bounds Interval(long met, long eligible, double level = 0.95)
    {
        Requires.Counts(met, eligible);
        var z = Normal.TwoSided(level);
        double k = met, n = eligible;
        if (met == 0)
            return new(0, -SmallNumbers.ExpMinusOne(-z * z / (2 * n)));
        if (met == eligible)
            return new(Math.Exp(-z * z / (2 * n)), 1);
        // The signed root is nearly straight in the log odds, and rises through −z and z once.
        return new(LogOdds.Root((p, q) => Signed(p, q) + z, k / n), LogOdds.Root((p, q) => Signed(p, q) - z, k / n));

        double Signed(double p, double q) =>
            Math.CopySign(Math.Sqrt(2 * (BinomialTerm.Deviance(k, n * p) + BinomialTerm.Deviance(n - k, n * q))),
                (n * p * 0.5) - (k * 0.5));
    }
}
