namespace Outcomes.Statistics;

/// <summary>Two groups compared within strata and pooled over them (Mantel-Haenszel).</summary>
public static class MantelHaenszel
{
    public const string OddsRatioMethod = "mantel_haenszel_or";

    public const string RiskRatioMethod = "mantel_haenszel_rr";

    public const string DifferenceMethod = "mantel_haenszel_rd";

    public const string OddsRatioSource =
        "Mantel N, Haenszel W. J Natl Cancer Inst 1959;22:719-748; variance: Robins J, Breslow N, Greenland S. Biometrics 1986;42:311-323";

    public const string RatioAndDifferenceSource = "Greenland S, Robins JM. Biometrics 1985;41:55-68";

    public const string TestSource = "Mantel N, Haenszel W. J Natl Cancer Inst 1959;22:719-748";

    /// <summary>
    /// ΣR / ΣS with R = ad/N and S = bc/N in each stratum (a met and b not met in the first group, c and d in the second), and the interval
    /// on its logarithm.
    /// </summary>
    /// <param name="strata">The counts of the first and second group in each stratum. Those without records in both groups have no
    /// weight.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>
    /// A ratio from 0 to infinity; null when no stratum has both groups. Where every R or every S is 0 there is no interval
    /// (<see cref="RatioEstimate.WhyNoInterval"/>).
    /// </returns>
    /// <remarks>
    /// Assumes independent records and one odds ratio in all strata: look at <see cref="BreslowDay"/> and at the strata first. Right for a
    /// few large strata and for many sparse ones. Source: <see cref="OddsRatioSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static RatioEstimate? OddsRatio(IReadOnlyList<(Count First, Count Second)> strata, double level = 0.95)
    {
        var z = Normal.TwoSided(level);
        if (Tables(strata) is not { Length: > 0 } tables)
            return null;
        var (r, s) = (tables.Sum(t => t.A * t.D / t.N), tables.Sum(t => t.B * t.C / t.N));
        if (r == 0 || s == 0)
            return RatioEstimate.Without(r / s, level, OddsRatioMethod, OddsRatioSource, NoInterval.EmptyCell);
        var variance = tables.Sum(t =>
        {
            var (p, q, ri, si) = ((t.A + t.D) / t.N, (t.B + t.C) / t.N, t.A * t.D / t.N, t.B * t.C / t.N);
            return (p * ri / (2 * r * r)) + (((p * si) + (q * ri)) / (2 * r * s)) + (q * si / (2 * s * s));
        });
        var spread = Math.Exp(z * Math.Sqrt(variance));
        return new(r / s, r / s / spread, r / s * spread, level, OddsRatioMethod, OddsRatioSource);
    }

    /// <summary>
    /// Σ(a n₂/N) / Σ(c n₁/N), and the interval on its logarithm with the variance Σ((a + c) n₁n₂/N² − ac/N) over the product of both sums.
    /// </summary>
    /// <inheritdoc cref="OddsRatio" path="/param"/>
    /// <returns>
    /// A ratio from 0 to infinity; null when no stratum has both groups. With none met in a group, or all met in both, there is no interval
    /// (<see cref="RatioEstimate.WhyNoInterval"/>).
    /// </returns>
    /// <remarks>Assumes one ratio in all strata. Source: <see cref="RatioAndDifferenceSource"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static RatioEstimate? RiskRatio(IReadOnlyList<(Count First, Count Second)> strata, double level = 0.95)
    {
        var z = Normal.TwoSided(level);
        if (Tables(strata) is not { Length: > 0 } tables)
            return null;
        var (r, s) = (tables.Sum(t => t.A * t.N2 / t.N), tables.Sum(t => t.C * t.N1 / t.N));
        if (r == 0 || s == 0)
            return RatioEstimate.Without(r / s, level, RiskRatioMethod, RatioAndDifferenceSource, NoInterval.EmptyCell);
        if (tables.All(t => t.B == 0 && t.D == 0))
            return RatioEstimate.Without(r / s, level, RiskRatioMethod, RatioAndDifferenceSource, NoInterval.NoError);
        var variance = tables.Sum(t => ((t.A + t.C) * t.N1 * t.N2 / (t.N * t.N)) - (t.A * t.C / t.N)) / (r * s);
        var spread = Math.Exp(z * Math.Sqrt(Math.Max(variance, 0)));
        return new(r / s, r / s / spread, r / s * spread, level, RiskRatioMethod, RatioAndDifferenceSource);
    }

    /// <summary>Σ w (p₁ − p₂) / Σ w with w = n₁n₂/N, ± z √(Σ w² (p₁q₁/n₁ + p₂q₂/n₂)) / Σ w; cut to −1 and 1.</summary>
    /// <inheritdoc cref="OddsRatio" path="/param"/>
    /// <returns>
    /// Fractions from −1 to 1, with the pooled counts; null when no stratum has both groups. Where all or none met in each group of each
    /// stratum there is no interval (<see cref="DifferenceEstimate.WhyNoInterval"/>).
    /// </returns>
    /// <remarks>Assumes one difference in all strata, and no stratum very small. Source: <see cref="RatioAndDifferenceSource"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static DifferenceEstimate? Difference(IReadOnlyList<(Count First, Count Second)> strata, double level = 0.95)
    {
        var z = Normal.TwoSided(level);
        if (Tables(strata) is not { Length: > 0 } tables)
            return null;
        var weights = tables.Sum(t => t.N1 * t.N2 / t.N);
        var value = tables.Sum(t => ((t.A * t.N2) - (t.C * t.N1)) / t.N) / weights;
        var variance = tables.Sum(t => ((t.A * t.B * t.N2 * t.N2 * t.N2) + (t.C * t.D * t.N1 * t.N1 * t.N1)) / (t.N1 * t.N2 * t.N * t.N));
        var half = z * Math.Sqrt(variance) / weights;
        var (first, second) =
            strata.Aggregate((default(Count), default(Count)), (sum, stratum) => (sum.Item1 + stratum.First, sum.Item2 + stratum.Second));
        return variance == 0
            ? new(value, -1, 1, level, DifferenceMethod, RatioAndDifferenceSource, first, second) { WhyNoInterval = NoInterval.NoError }
            : new(value, Math.Max(value - half, -1), Math.Min(value + half, 1), level, DifferenceMethod, RatioAndDifferenceSource, first,
                second);
    }

    /// <summary>
    /// (Σ(a − E))² / ΣV against χ² with one degree of freedom: no association in any stratum. E and V are hypergeometric: V has N²(N − 1)
    /// below, not N³. With the correction for continuity, max(0, |Σ(a − E)| − ½)² / ΣV.
    /// </summary>
    /// <param name="strata">The counts of the first and second group in each stratum.</param>
    /// <param name="corrected">Whether to take off the ½; a distance below it then counts as none.</param>
    /// <returns>The test; null when no stratum can tell.</returns>
    /// <remarks>
    /// The correction is that of the source: one half, taken once from the sum over all strata, not from each. It allows for counts that
    /// move in steps of one and errs on the careful side of the exact conditional test: ask for it where counts are few. Without it the
    /// test agrees with the interval of the odds ratio. A distance below ½ counts as none: statistic 0, p 1. Some software leaves the
    /// correction out there. Source: <see cref="TestSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count is out of range.</exception>
    public static TestResult? Test(IReadOnlyList<(Count First, Count Second)> strata, bool corrected = false)
    {
        var tables = Tables(strata);
        var variance = tables.Sum(t => t.N1 * t.N2 * (t.A + t.C) * (t.B + t.D) / (t.N * t.N * (t.N - 1)));
        if (!(variance > 0))
            return null;
        var distance = Math.Abs(tables.Sum(t => t.A - (t.N1 * (t.A + t.C) / t.N)));
        var statistic = ChiSquare.Square(corrected ? Math.Max(distance - 0.5, 0) : distance) / variance;
        return new(statistic, 1, ChiSquare.UpperTail(statistic, 1));
    }

    internal static Table[] Tables(IReadOnlyList<(Count First, Count Second)> strata)
    {
        foreach (var (first, second) in strata)
        {
            Requires.Counts(first, nameof(strata));
            Requires.Counts(second, nameof(strata));
        }
        return [.. strata.Where(s => s.First.Eligible > 0 && s.Second.Eligible > 0)
            .Select(s => new Table(s.First.Met, s.First.Eligible - s.First.Met, s.Second.Met, s.Second.Eligible - s.Second.Met))];
    }

    internal readonly record struct Table(double A, double B, double C, double D)
    {
        public double N1 => A + B;

        public double N2 => C + D;

        public double N => N1 + N2;
    }
}
