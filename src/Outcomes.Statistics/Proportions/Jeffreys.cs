namespace Outcomes.Statistics;

/// <summary>The equal-tailed interval of the Jeffreys prior for a proportion.</summary>
public static class Jeffreys
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "jeffreys";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Brown LD, Cai TT, DasGupta A. Stat Sci 2001;16:101-133, section 4.1";

    /// <summary>
    /// The α/2 and 1 − α/2 quantiles of Beta(k + ½, n − k + ½), with k met of n eligible and α = 1 − level; the lower end is set to 0
    /// for none met, the upper to 1 for all met.
    /// </summary>
    /// <param name="met">Records that met the measure, 0 to <paramref name="eligible"/>.</param>
    /// <param name="eligible">Records judged, at least 1.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1.</returns>
    /// <remarks>
    /// Assumes independent records with one true proportion. A posterior interval that on average also covers close to its level; for a
    /// few proportions near 0 and 1 it covers less. Without the set ends, none met would exclude 0. The further change that the source
    /// calls modified, for one met, is not made. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static Bounds Interval(long met, long eligible, double level = 0.95)
    {
        Requires.Counts(met, eligible);
        Requires.Level(level);
        var (a, b, tail) = (met + 0.5, eligible - met + 0.5, (1 - level) / 2);
        var start = a / (a + b);
        return new(
            met == 0 ? 0 : LogOdds.Root((p, q) => LogOdds.Log(IncompleteBeta.Lower(a, b, p, q), tail), start),
            met == eligible ? 1 : LogOdds.Root((p, q) => LogOdds.Log(IncompleteBeta.Upper(a, b, p, q), tail), start));
    }
}
