namespace Outcomes.Statistics;

/// <summary>The ratio of two independent proportions.</summary>
public static class RiskRatio
{
    public const string KatzMethod = "katz";

    public const string KatzSource = "Katz D, Baptista J, Azen SP, Pike MC. Biometrics 1978;34:469-474";

    public const string ScoreMethod = "risk_ratio_score";

    public const string ScoreSource = "Koopman PAR. Biometrics 1984;40:513-517";

    /// <summary>(p₁/p₂) e^(±z s) with s² = 1/k₁ − 1/n₁ + 1/k₂ − 1/n₂, k of n met in each group.</summary>
    /// <returns>A ratio from 0 to infinity; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups of independent records, with some met in each. Edges: with none met in a group, or all met in both,
    /// the formula has nothing to say (<see cref="RatioEstimate.WhyNoInterval"/>); a group of which all met adds no error to that of the
    /// other. <see cref="Score"/> holds in each of these. Source: <see cref="KatzSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static RatioEstimate? Katz(Count first, Count second, double level = 0.95)
    {
        var z = Normal.TwoSided(level);
        if (Value(first, second) is not { } value)
            return null;
        if (first.Met == 0 || second.Met == 0)
            return RatioEstimate.Without(value, level, KatzMethod, KatzSource, NoInterval.EmptyCell);
        if (first.Met == first.Eligible && second.Met == second.Eligible)
            return RatioEstimate.Without(value, level, KatzMethod, KatzSource, NoInterval.NoError);
        // 1/k − 1/n as (n − k)/(k n): no loss of digits when nearly all met.
        var spread = Math.Exp(z * Math.Sqrt(Inverse(first) + Inverse(second)));
        return new(value, value / spread, value * spread, level, KatzMethod, KatzSource);

        static double Inverse(Count count) => (count.Eligible - count.Met) / ((double)count.Met * count.Eligible);
    }

    /// <summary>
    /// The ratios θ with |p₁ − θ p₂| = z √(p̃₁q̃₁/n₁ + θ² p̃₂q̃₂/n₂), where p̃₁ = θ p̃₂ are the likeliest proportions with that ratio.
    /// </summary>
    /// <returns>A ratio from 0 to infinity; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups of independent records. Edges: none met in the first group gives a lower end of 0, none in the second
    /// an infinite upper end; none in both says nothing, 0 to infinity, and the ratio is NaN. Source: <see cref="ScoreSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static RatioEstimate? Score(Count first, Count second, double level = 0.95)
    {
        var z = Normal.TwoSided(level);
        if (Value(first, second) is not { } value)
            return null;
        var start = Math.Log((first.Met + 0.5) / (first.Eligible + 1) / ((second.Met + 0.5) / (second.Eligible + 1)));
        var lower = first.Met == 0 ? 0 : Math.Exp(LogOdds.Find(t => Statistic(first, second, t) - z, start));
        var upper = second.Met == 0 ? double.PositiveInfinity : Math.Exp(LogOdds.Find(t => Statistic(first, second, t) + z, start));
        return new(value, lower, upper, level, ScoreMethod, ScoreSource);
    }

    /// <summary>The score statistic of a ratio, given its logarithm.</summary>
    /// <remarks>
    /// The likeliest p̃₂ is the smaller root of N θ p² − (θ(n₁ + x₂) + x₁ + n₂) p + x₁ + x₂, and 1 − p̃₂ the larger root of the equation in
    /// 1 − p. Both have the discriminant g² + 4 θ y₁ y₂, with y not met and g = (θ − 1) N + y₁ − θ y₂, whose parts do not cancel: so
    /// proportions near 1 keep the digits of their complements.
    /// </remarks>
    private static double Statistic(Count first, Count second, double log)
    {
        double x1 = first.Met, n1 = first.Eligible, x2 = second.Met, n2 = second.Eligible, y1 = n1 - x1, y2 = n2 - x2;
        var (ratio, excess, all) = (Math.Exp(log), SmallNumbers.ExpMinusOne(log), n1 + n2);
        var g = (excess * all) + y1 - (ratio * y2);
        var product = 4 * ratio * y1 * y2;
        var root = Math.Sqrt((g * g) + product);
        // root − g and root + g without the loss of digits where they nearly cancel.
        var (less, more) = g > 0 ? (product / (root + g), root + g) : (root - g, root == g ? 0 : product / (root - g));
        var p2 = 2 * (x1 + x2) / ((ratio * (n1 + x2)) + x1 + n2 + root);
        var (q1, q2) = (((2 * y1) + less) / (2 * all), ((2 * ratio * y2) + more) / (2 * all * ratio));
        var variance = (ratio * p2 * q1 / n1) + (ratio * ratio * p2 * q2 / n2);
        var distance =
            ((double)(((Int128)first.Met * second.Eligible) - ((Int128)second.Met * first.Eligible)) / n1 / n2) - (excess * x2 / n2);
        return distance == 0 ? 0 : Math.Clamp(distance / Math.Sqrt(variance), -1e100, 1e100);
    }

    private static double? Value(Count first, Count second)
    {
        Requires.Counts(first);
        Requires.Counts(second);
        if (first.Eligible == 0 || second.Eligible == 0)
            return null;
        return (double)first.Met / first.Eligible / ((double)second.Met / second.Eligible);
    }
}
