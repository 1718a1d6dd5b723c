namespace Outcomes.Statistics;

/// <summary>The mid-P interval for a proportion: the exact one, counting only half of the probability of what was seen.</summary>
public static class MidP
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "mid_p";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Lancaster HO. J Am Stat Assoc 1961;56:223-234; Newcombe RG. Stat Med 1998;17:857-872, method 6";

    /// <summary>
    /// The p with P(X &gt; k) + ½ P(X = k) = α/2, and the p with P(X &lt; k) + ½ P(X = k) = α/2, for X ~ Binomial(n, p), k met of n
    /// eligible and α = 1 − level.
    /// </summary>
    /// <param name="met">Records that met the measure, 0 to <paramref name="eligible"/>.</param>
    /// <param name="eligible">Records judged, at least 1.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1, within <see cref="ClopperPearson"/>'s.</returns>
    /// <remarks>
    /// Assumes independent records with one true proportion. It covers close to its level on average, seldom much less.
    /// Edges, in closed form: 0/n gives 0 to 1 − α^(1/n); n/n gives α^(1/n) to 1. Source: <see cref="Source"/>.
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
            met == 0 ? 0 : met == eligible ? Math.Pow(2 * tail, 1 / n)
                : LogOdds.Root((p, q) => LogOdds.Log(IncompleteBeta.AtLeast(k + 1, n, p, q) + (BinomialTerm.Of(k, n, p, q) / 2), tail),
                    start),
            met == eligible ? 1 : met == 0 ? -SmallNumbers.ExpMinusOne(Math.Log(2 * tail) / n)
                : LogOdds.Root((p, q) => LogOdds.Log(IncompleteBeta.AtMost(k - 1, n, p, q) + (BinomialTerm.Of(k, n, p, q) / 2), tail),
                    start));
    }
}
