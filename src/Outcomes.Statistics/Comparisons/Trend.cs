namespace Outcomes.Statistics;

/// <summary>A trend of proportions over ordered groups.</summary>
/// <param name="Z">The standardised trend: above 0 when the proportion rises with the score.</param>
/// <param name="ChiSquare">Z², on one degree of freedom.</param>
/// <param name="PValue">Two-sided.</param>
/// <param name="Slope">Change of the proportion for one more unit of score, by weighted least squares.</param>
public sealed record TrendResult(double Z, double ChiSquare, double PValue, double Slope);

/// <summary>The Cochran-Armitage test for trend.</summary>
public static class Trend
{
    public const string Source = "Cochran WG. Biometrics 1954;10:417-451; Armitage P. Biometrics 1955;11:375-386";

    /// <summary>
    /// Z = Σ (sᵢ − s̄) kᵢ / √(p q Σ nᵢ (sᵢ − s̄)²), with the score s of each group, their mean s̄ weighted by n, p the pooled proportion
    /// and q = 1 − p.
    /// </summary>
    /// <param name="groups">Counts of independent groups in order. Groups with no eligible record have no weight.</param>
    /// <param name="scores">One finite score a group; 1, 2, 3 … when there is no better one. Any straight-line change of scores leaves Z as
    /// it is.</param>
    /// <returns>The test; null when scores do not differ among groups with records, or nobody or everybody met the measure.</returns>
    /// <remarks>
    /// Assumes independent records. It looks for a straight line: a rise followed by a fall may give no trend at all. Some software takes N
    /// − 1 in place of N in the variance; this does not. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count is out of range, a score is not finite, or there is not one a
    /// group.</exception>
    public static TrendResult? Test(IReadOnlyList<Count> groups, IReadOnlyList<double> scores)
    {
        if (scores.Count != groups.Count || scores.Any(score => !double.IsFinite(score)))
            throw new ArgumentOutOfRangeException(nameof(scores), scores.Count, $"each of the {groups.Count} groups has one finite score");
        foreach (var group in groups)
            Requires.Counts(group);
        double met = groups.Sum(group => group.Met), eligible = groups.Sum(group => group.Eligible);
        if (met == 0 || met == eligible)
            return null;
        var mean = groups.Select((group, i) => group.Eligible * scores[i]).Sum() / eligible;
        var spread = groups.Select((group, i) => group.Eligible * (scores[i] - mean) * (scores[i] - mean)).Sum();
        var judged = scores.Where((_, i) => groups[i].Eligible > 0).Distinct().Count();
        if (judged < 2)
            return null;
        var (p, q) = (met / eligible, (eligible - met) / eligible);
        var sum = groups.Select((group, i) => (group.Met - (group.Eligible * p)) * (scores[i] - mean)).Sum();
        var z = sum / Math.Sqrt(p * q * spread);
        return new(z, z * z, ChiSquare.UpperTail(z * z, 1), sum / spread);
    }
}
