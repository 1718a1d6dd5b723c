namespace Outcomes.Statistics;

/// <summary>
/// The ratio of the odds of two independent proportions, by formulas for large groups. For small ones: <see cref="ConditionalOdds"/>.
/// </summary>
public static class OddsRatio
{
    public const string WoolfMethod = "woolf";

    public const string WoolfSource = "Woolf B. Ann Hum Genet 1955;19:251-253";

    public const string GartMethod = "gart";

    public const string GartSource = "Gart JJ. Biometrika 1966;53 (one half added to each cell; citation from memory)";

    public const string ScoreMethod = "odds_ratio_score";

    public const string ScoreSource = "Miettinen O, Nurminen M. Stat Med 1985;4:213-226";

    /// <summary>(ad/bc) e^(±z s) with s² = 1/a + 1/b + 1/c + 1/d: a met and b not met in the first group, c and d in the second.</summary>
    /// <returns>A ratio from 0 to infinity; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups of independent records, no cell small. Edges: with an empty cell the formula has nothing to say
    /// (<see cref="RatioEstimate.WhyNoInterval"/>). Source: <see cref="WoolfSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static RatioEstimate? Woolf(Count first, Count second, double level = 0.95) =>
        Logit(first, second, level, 0, WoolfMethod, WoolfSource);

    /// <summary>The same with one half added to each cell, value included, so that it exists for empty cells too.</summary>
    /// <returns>A ratio above 0; null when either group has no eligible record.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static RatioEstimate? Gart(Count first, Count second, double level = 0.95) =>
        Logit(first, second, level, 0.5, GartMethod, GartSource);

    /// <summary>
    /// The ratios θ with |k₁ − n₁p̃₁| √((1/(n₁p̃₁q̃₁) + 1/(n₂p̃₂q̃₂)) (N − 1)/N) = z, where p̃₁ and p̃₂ are the likeliest proportions with
    /// that odds ratio.
    /// </summary>
    /// <returns>A ratio from 0 to infinity; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups of independent records. Edges: an empty cell gives an end of 0 or infinity and a finite other end;
    /// nobody or everybody met in both groups says nothing: 0 to infinity, and the ratio is NaN. Source: <see cref="ScoreSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static RatioEstimate? Score(Count first, Count second, double level = 0.95)
    {
        var z = Normal.TwoSided(level);
        if (!Judged(first, second))
            return null;
        var value = Value(first, second, 0);
        // Proportions near 1 have lost digits: the ratio of the other answer's odds is the inverse.
        if (first.Met + second.Met > first.Eligible - first.Met + (second.Eligible - second.Met))
        {
            var other = Score(NotMet(first), NotMet(second), level)!;
            return new(value, 1 / other.Upper, 1 / other.Lower, level, ScoreMethod, ScoreSource);
        }
        double x1 = first.Met, n1 = first.Eligible, n2 = second.Eligible, m = x1 + second.Met;
        var start = Math.Log(Value(first, second, 0.5));
        var lower = value == 0 || double.IsNaN(value) ? 0 : Math.Exp(LogOdds.Find(t => Statistic(Math.Exp(t)) - z, start));
        var upper = double.IsInfinity(value) || double.IsNaN(value)
            ? double.PositiveInfinity
            : Math.Exp(LogOdds.Find(t => Statistic(Math.Exp(t)) + z, start));
        return new(value, lower, upper, level, ScoreMethod, ScoreSource);

        double Statistic(double odds)
        {
            var b = (n1 * odds) + n2 - (m * (odds - 1));
            var p2 = 2 * m / (b + Math.Sqrt(Math.Max((b * b) + (4 * n2 * (odds - 1) * m), 0)));
            var p1 = odds * p2 / (1 + (p2 * (odds - 1)));
            var inverse = (1 / (n1 * p1 * (1 - p1))) + (1 / (n2 * p2 * (1 - p2)));
            return Math.Clamp((x1 - (n1 * p1)) * Math.Sqrt(inverse * (n1 + n2 - 1) / (n1 + n2)), -1e100, 1e100);
        }
    }

    private static RatioEstimate? Logit(Count first, Count second, double level, double add, string method, string source)
    {
        var z = Normal.TwoSided(level);
        if (!Judged(first, second))
            return null;
        var value = Value(first, second, add);
        double a = first.Met + add, b = first.Eligible - first.Met + add, c = second.Met + add, d = second.Eligible - second.Met + add;
        if (a * b * c * d == 0)
            return RatioEstimate.Without(value, level, method, source, NoInterval.EmptyCell);
        var spread = Math.Exp(z * Math.Sqrt((1 / a) + (1 / b) + (1 / c) + (1 / d)));
        return new(value, value / spread, value * spread, level, method, source);
    }

    private static Count NotMet(Count count) => count with { Met = count.Eligible - count.Met };

    internal static double Value(Count first, Count second, double add) =>
        (first.Met + add) * (second.Eligible - second.Met + add) / ((first.Eligible - first.Met + add) * (second.Met + add));

    internal static bool Judged(Count first, Count second)
    {
        Requires.Counts(first);
        Requires.Counts(second);
        return first.Eligible > 0 && second.Eligible > 0;
    }
}
