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
    double Value, double Lower, double Upper, double Level, string Method, string Source, Count First, Count Second)
{
    /// <summary>Why there is no interval: the ends are then −1 and 1; null where there is one.</summary>
    public string? WhyNoInterval { get; init; }
}

/// <summary>The difference of two independent proportions.</summary>
public static class Difference
{
    public const string NewcombeMethod = "newcombe";

    public const string NewcombeSource = "Newcombe RG. Stat Med 1998;17:873-890, method 10";

    public const string NewcombeCorrectedMethod = "newcombe_cc";

    public const string NewcombeCorrectedSource = "Newcombe RG. Stat Med 1998;17:873-890, method 11";

    public const string AgrestiCaffoMethod = "agresti_caffo";

    public const string AgrestiCaffoSource = "Agresti A, Caffo B. Am Stat 2000;54:280-288";

    public const string WaldMethod = "wald";

    public const string WaldSource = "Newcombe RG. Stat Med 1998;17:873-890, method 1, as the one not to use";

    public const string WaldContinuityCorrectedMethod = "wald_cc";

    public const string WaldContinuityCorrectedSource =
        "Fleiss JL. Statistical Methods for Rates and Proportions, 2nd ed. 1981; Newcombe RG. Stat Med 1998;17:873-890, method 2";

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
    public static DifferenceEstimate? Newcombe(Count first, Count second, double level = 0.95) =>
        Hybrid(first, second, level, IntervalMethod.Wilson, NewcombeMethod, NewcombeSource);

    /// <summary>
    /// The same with the ends of the continuity-corrected score interval, <see cref="WilsonCorrected"/>: wider, and as careful as an exact
    /// one.
    /// </summary>
    /// <returns>Fractions from −1 to 1; null when either group has no eligible record.</returns>
    /// <remarks>Assumptions as for <see cref="Newcombe"/>. Source: <see cref="NewcombeCorrectedSource"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static DifferenceEstimate? NewcombeCorrected(Count first, Count second, double level = 0.95) =>
        Hybrid(first, second, level, IntervalMethod.WilsonCorrected, NewcombeCorrectedMethod, NewcombeCorrectedSource);

    /// <summary>
    /// The Wald interval after one met and one not met record are added to each group; the value stays p₁−p₂. Easy to work by hand.
    /// </summary>
    /// <returns>Fractions, cut to −1 and 1; null when either group has no eligible record.</returns>
    /// <remarks>Assumptions as for <see cref="Newcombe"/>. Source: <see cref="AgrestiCaffoSource"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static DifferenceEstimate? AgrestiCaffo(Count first, Count second, double level = 0.95) =>
        Simple(first, second, level, 1, false, AgrestiCaffoMethod, AgrestiCaffoSource);

    /// <summary>
    /// The Wald interval: p₁−p₂ ± z √(p₁q₁/n₁ + p₂q₂/n₂). <b>Only to reproduce a paper that printed it</b>; <see cref="Newcombe"/> covers
    /// better.
    /// </summary>
    /// <returns>Fractions, cut to −1 and 1; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups, each large. It has no width when both proportions are 0 or 1; such a paper printed nothing
    /// that holds. Source: <see cref="WaldSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static DifferenceEstimate? Wald(Count first, Count second, double level = 0.95) =>
        Simple(first, second, level, 0, false, WaldMethod, WaldSource);

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
    public static DifferenceEstimate? WaldContinuityCorrected(Count first, Count second, double level = 0.95) =>
        Simple(first, second, level, 0, true, WaldContinuityCorrectedMethod, WaldContinuityCorrectedSource);

    private static DifferenceEstimate? Hybrid(Count first, Count second, double level, IntervalMethod ends, string method, string source)
    {
        Requires.Counts(first);
        Requires.Counts(second);
        var (left, right) = ByTheRarer(first, second);
        if (Proportion.Estimate(left, ends, level) is not { } one || Proportion.Estimate(right, ends, level) is not { } two)
            return null;
        var value = one.Value - two.Value;
        var below = Hypotenuse(one.Value - one.Lower, two.Upper - two.Value);
        var above = Hypotenuse(one.Upper - one.Value, two.Value - two.Lower);
        return Clipped(value, new(value - below, value + above), level, method, source, first, second);
    }

    /// <summary>The Wald interval after adding records to each cell, with or without the correction.</summary>
    private static DifferenceEstimate? Simple(
        Count first, Count second, double level, double add, bool corrected, string method, string source)
    {
        Requires.Counts(first);
        Requires.Counts(second);
        var z = Normal.TwoSided(level);
        if (first.Eligible == 0 || second.Eligible == 0)
            return null;
        var (left, right) = ByTheRarer(first, second);
        double n1 = left.Eligible + (2 * add), n2 = right.Eligible + (2 * add);
        double p1 = (left.Met + add) / n1, p2 = (right.Met + add) / n2;
        var half = z * Math.Sqrt((p1 * (1 - p1) / n1) + (p2 * (1 - p2) / n2));
        if (corrected)
            half += ((1 / n1) + (1 / n2)) / 2;
        var value = ((double)left.Met / left.Eligible) - ((double)right.Met / right.Eligible);
        return Clipped(value, new(p1 - p2 - half, p1 - p2 + half), level, method, source, first, second);
    }

    /// <summary>
    /// Two groups with the same difference, counted by the rarer answer: p₁ − p₂ = (1 − p₂) − (1 − p₁). Proportions near 1 have lost the
    /// digits that those near 0 keep.
    /// </summary>
    internal static (Count First, Count Second) ByTheRarer(Count first, Count second)
    {
        return first.Met + second.Met <= first.Eligible - first.Met + (second.Eligible - second.Met) ? (first, second)
            : (NotMet(second), NotMet(first));

        static Count NotMet(Count count) => count with { Met = count.Eligible - count.Met };
    }

    private static double Hypotenuse(double a, double b) => Math.Sqrt((a * a) + (b * b));

    private static DifferenceEstimate Clipped(
        double value, Bounds ends, double level, string method, string source, Count first, Count second) =>
        new(value, Math.Max(ends.Lower, -1), Math.Min(ends.Upper, 1), level, method, source, first, second);
}
