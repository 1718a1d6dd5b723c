namespace Outcomes.Statistics;

/// <summary>Peto's odds ratio over strata.</summary>
/// <param name="OddsRatio">The ratio with its interval.</param>
/// <param name="Homogeneity">Q: whether the strata agree; null with a single stratum that can tell.</param>
/// <param name="Observed">Σ(O − E): met in the first group beyond the number expected under equal odds.</param>
/// <param name="Variance">ΣV, its hypergeometric variance.</param>
public sealed record PetoResult(RatioEstimate OddsRatio, TestResult? Homogeneity, double Observed, double Variance);

/// <summary>The odds ratio by Peto's one step: for rare events, balanced groups and effects that are not large.</summary>
public static class PetoOdds
{
    public const string Method = "peto";

    public const string Source =
        "Yusuf S, Peto R, Lewis J, Collins R, Sleight P. Prog Cardiovasc Dis 1985;27:335-371 (citation from memory)";

    /// <summary>
    /// exp(Σ(O − E) / ΣV), with the interval exp((Σ(O − E) ± z √ΣV) / ΣV). In a stratum O is met in the first group, E = n₁m/N and V =
    /// n₁n₂m(N − m)/(N²(N − 1)), m met in all. Q = Σ(O − E)²/V − (Σ(O − E))²/ΣV, against χ² with strata − 1 degrees of freedom.
    /// </summary>
    /// <param name="strata">The counts of the first and second group in each stratum; one stratum is a single table. Strata in which nobody
    /// or everybody met, or one group is empty, cannot tell.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>A ratio above 0, also with empty cells; null when no stratum can tell.</returns>
    /// <remarks>
    /// It needs no ½ in empty cells. It pulls towards 1 when the true ratio is far from 1, and is wrong then where groups differ much in
    /// size: use
    /// <see cref="MantelHaenszel"/>. Assumes independent records and one odds ratio in all strata. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static PetoResult? Estimate(IReadOnlyList<(Count First, Count Second)> strata, double level = 0.95)
    {
        var z = Normal.TwoSided(level);
        (double Beyond, double Variance)[] parts = [.. MantelHaenszel.Tables(strata)
            .Where(t => t.A + t.C > 0 && t.B + t.D > 0)
            .Select(t => (t.A - (t.N1 * (t.A + t.C) / t.N), t.N1 * t.N2 * (t.A + t.C) * (t.B + t.D) / (t.N * t.N * (t.N - 1))))];
        if (parts.Length == 0)
            return null;
        var (beyond, variance) = (parts.Sum(part => part.Beyond), parts.Sum(part => part.Variance));
        var half = z / Math.Sqrt(variance);
        var log = beyond / variance;
        var q = Math.Max(0, parts.Sum(part => ChiSquare.Square(part.Beyond) / part.Variance) - (ChiSquare.Square(beyond) / variance));
        return new(
            new(Math.Exp(log), Math.Exp(log - half), Math.Exp(log + half), level, Method, Source),
            parts.Length < 2 ? null : new(q, parts.Length - 1, ChiSquare.UpperTail(q, parts.Length - 1)),
            beyond, variance);
    }
}
