namespace Outcomes.Statistics;

/// <summary>The chances of a table this far from equal odds, given its margins.</summary>
/// <param name="TwoSided">All tables no more likely than the one seen.</param>
/// <param name="TwoSidedMidP">The same, less half of the probability of the table seen.</param>
/// <param name="Less">As many met in the first group or fewer.</param>
/// <param name="Greater">As many met in the first group or more.</param>
public sealed record FisherResult(double TwoSided, double TwoSidedMidP, double Less, double Greater);

/// <summary>Fisher's exact test of two independent proportions.</summary>
public static class FisherExact
{
    public const string Source = "Fisher RA. J R Stat Soc 1935;98:39-82; mid-P: Lancaster HO. J Am Stat Assoc 1961;56:223-234";

    /// <summary>
    /// With the margins of the table given and equal odds, the number met in the first group is hypergeometric; the two-sided p adds up all
    /// tables no more likely than the one seen (within 1e-7 of it, which rounding needs).
    /// </summary>
    /// <returns>Probabilities from 0 to 1; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups of independent records. The test is careful: it rejects less often than its level; the mid-P comes
    /// closer to the level. A p value says nothing about how large a difference is: give the interval. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count is out of range, or a group above a million records.</exception>
    public static FisherResult? Test(Count first, Count second)
    {
        if (!OddsRatio.Judged(first, second))
            return null;
        var table = new TwoByTwo(first, second);
        return new(table.NoMoreLikely, table.NoMoreLikely - (table.Seen / 2), table.AtMost(0, 1), table.AtLeast(0, 1));
    }
}
