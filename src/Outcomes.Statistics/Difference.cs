namespace Outcomes.Statistics;

/// <summary>A difference of two proportions, first minus second, with its interval.</summary>
/// <param name="Value">First minus second, a fraction from −1 to 1 (times 100: percentage points).</param>
/// <param name="Lower">Lower end of the interval.</param>
/// <param name="Upper">Upper end of the interval.</param>
/// <param name="Level">Confidence level, such as 0.95.</param>
/// <param name="Method">Stable name of the method.</param>
/// <param name="Source">The publication that the method comes from.</param>
/// <param name="First">The count of the first group.</param>
/// <param name="Second">The count of the second group.</param>
public sealed record DifferenceEstimate(
    double Value, double Lower, double Upper, double Level, string Method, string Source, Count First, Count Second);

/// <summary>The difference of two independent proportions.</summary>
public static class Difference
{
    public const string NewcombeMethod = "newcombe";

    public const string NewcombeSource = "Newcombe RG. Stat Med 1998;17:873-890, method 10";

    public const string WaldContinuityCorrectedMethod = "wald_cc";

    public const string WaldContinuityCorrectedSource = "Fleiss JL. Statistical Methods for Rates and Proportions, 2nd ed. 1981; Newcombe RG. Stat Med 1998;17:873-890, method 2";

    /// <summary>
    /// The hybrid score interval, the house default: with Wilson ends (l₁, u₁) and (l₂, u₂) of the two proportions,
    /// p₁−p₂ − √((p₁−l₁)² + (u₂−p₂)²) to p₁−p₂ + √((u₁−p₁)² + (p₂−l₂)²).
    /// </summary>
    /// <returns>Fractions from −1 to 1; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups of independent records: not for the same records judged twice, nor for before and after when a
    /// trend was already under way. It adjusts for nothing. Source: <see cref="NewcombeSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static DifferenceEstimate? Newcombe(Count first, Count second, double level = 0.95)
    {
        if (Proportion.Estimate(first, level: level) is not { } one || Proportion.Estimate(second, level: level) is not { } two)
            return null;
        var value = one.Value - two.Value;
        var below = Hypotenuse(one.Value - one.Lower, two.Upper - two.Value);
        var above = Hypotenuse(one.Upper - one.Value, two.Value - two.Lower);
        return Clipped(value, value - below, value + above, level, NewcombeMethod, NewcombeSource, first, second);
    }

    /// <summary>
    /// The Wald interval with continuity correction: p₁−p₂ ± (z √(p₁q₁/n₁ + p₂q₂/n₂) + (1/n₁ + 1/n₂)/2).
    /// <b>Only to reproduce a paper that printed it</b>; <see cref="Newcombe"/> covers better.
    /// </summary>
    /// <returns>Fractions, cut to −1 and 1; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups, each large. Edges: its standard error is 0 when both proportions are 0 or 1, so that only the
    /// correction is left. Some software shrinks the correction when the difference is smaller than it; this does not.
    /// Source: <see cref="WaldContinuityCorrectedSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static DifferenceEstimate? WaldContinuityCorrected(Count first, Count second, double level = 0.95)
    {
        Requires.Counts(first);
        Requires.Counts(second);
        var z = Normal.TwoSided(level);
        if (first.Eligible == 0 || second.Eligible == 0)
            return null;
        double n1 = first.Eligible, n2 = second.Eligible;
        double p1 = first.Met / n1, p2 = second.Met / n2;
        var half = (z * Math.Sqrt((p1 * (1 - p1) / n1) + (p2 * (1 - p2) / n2))) + (((1 / n1) + (1 / n2)) / 2);
        return Clipped(p1 - p2, p1 - p2 - half, p1 - p2 + half, level, WaldContinuityCorrectedMethod, WaldContinuityCorrectedSource, first, second);
    }

    private static double Hypotenuse(double a, double b) => Math.Sqrt((a * a) + (b * b));

    private static DifferenceEstimate Clipped(
        double value, double lower, double upper, double level, string method, string source, Count first, Count second) =>
        new(value, Math.Max(lower, -1), Math.Min(upper, 1), level, method, source, first, second);
}
