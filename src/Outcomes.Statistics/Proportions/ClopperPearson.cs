namespace Outcomes.Statistics;

/// <summary>The exact interval for a proportion, and the exact bound when nothing was seen.</summary>
public static class ClopperPearson
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "clopper_pearson";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Clopper CJ, Pearson ES. Biometrika 1934;26:404-413; Newcombe RG. Stat Med 1998;17:857-872, method 5";

    /// <summary>Where the bound for none seen comes from.</summary>
    public const string UpperWhenNoneSource =
        "Hanley JA, Lippman-Hand A. JAMA 1983;249:1743-1745; Clopper CJ, Pearson ES. Biometrika 1934;26:404-413";

    /// <summary>
    /// The interval whose ends put exactly α/2 of binomial probability at or beyond the count: the α/2 quantile of
    /// Beta(k, n−k+1) and the 1−α/2 quantile of Beta(k+1, n−k), with k met of n eligible and α = 1 − level.
    /// </summary>
    /// <param name="met">Records that met the measure, 0 to <paramref name="eligible"/>.</param>
    /// <param name="eligible">Records judged, at least 1.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1, with lower ≤ met/eligible ≤ upper.</returns>
    /// <remarks>
    /// Assumes independent records with one true proportion. It never covers less than its level and usually covers more, so it is wider
    /// than <see cref="Wilson"/>: for a guarantee, not for everyday tables. An end is right to about 1e-12 of itself up to ten million
    /// records. Edges, in closed form: 0/n gives 0 to 1 − (α/2)^(1/n); n/n gives (α/2)^(1/n) to 1.
    /// Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static Bounds Interval(long met, long eligible, double level = 0.95)
    {
        Requires.Counts(met, eligible);
        Requires.Level(level);
        double k = met, n = eligible;
        var tail = (1 - level) / 2;
        var start = (k + 0.5) / (n + 1);
        return new(
            met == 0 ? 0 : met == eligible ? Math.Pow(tail, 1 / n)
                : LogOdds.Root((p, q) => LogOdds.Log(IncompleteBeta.AtLeast(k, n, p, q), tail), start),
            met == eligible ? 1 : met == 0 ? -SmallNumbers.ExpMinusOne(Math.Log(tail) / n)
                : LogOdds.Root((p, q) => LogOdds.Log(IncompleteBeta.AtMost(k, n, p, q), tail), start));
    }

    /// <summary>
    /// The one-sided upper bound for a true proportion of which none was seen: the p that would leave 0 of n with probability
    /// 1 − level, which is 1 − (1 − level)^(1/n). The "rule of three", 3/n, approximates it at 95 %.
    /// </summary>
    /// <param name="eligible">Records judged, at least 1; none met the measure.</param>
    /// <param name="level">One-sided confidence level, above 0 and below 1. It is lower than the upper end of the two-sided
    /// interval.</param>
    /// <returns>A fraction from 0 to 1.</returns>
    /// <remarks>
    /// Assumes independent records with one true proportion.
    /// Source: <see cref="UpperWhenNoneSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">The count or the level is out of range.</exception>
    public static double UpperWhenNone(long eligible, double level = 0.95)
    {
        Requires.Counts(0, eligible);
        Requires.Level(level);
        // Not as 1 − (…): a bound near 0 keeps its digits.
        return -SmallNumbers.ExpMinusOne(Math.Log(1 - level) / eligible);
    }
}
