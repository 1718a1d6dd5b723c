namespace Outcomes.Statistics;

/// <summary>How far a disagreement between ordered categories counts.</summary>
public enum KappaWeights
{
    /// <summary>Any disagreement counts in full: for categories without order.</summary>
    None,

    /// <summary>A disagreement counts by how many categories apart: 1 − |i − j|/(k − 1).</summary>
    Linear,

    /// <summary>By the square of it: 1 − ((i − j)/(k − 1))².</summary>
    Quadratic,
}

/// <summary>Agreement beyond chance.</summary>
/// <param name="Value">1 is perfect, 0 what chance alone would give; it may be negative.</param>
/// <param name="Lower">Lower end, not below −1.</param>
/// <param name="Upper">Upper end, not above 1.</param>
/// <param name="StandardError">Large-sample standard error.</param>
/// <param name="Level">Confidence level.</param>
/// <param name="Observed">Share of agreement seen, weighted.</param>
/// <param name="Expected">Share that chance would give with the same margins.</param>
/// <param name="N">Records judged by both.</param>
public sealed record KappaEstimate(
    double Value, double Lower, double Upper, double StandardError, double Level, double Observed, double Expected, long N)
{
    /// <summary>
    /// Why there is no interval: the ends are then −1 and 1. The large-sample formula has no error where the two never differ, never agree,
    /// or one of them uses one category only; null where there is an interval.
    /// </summary>
    public string? WhyNoInterval => StandardError > 0 ? null : NoInterval.NoError;
}

/// <summary>Cohen's kappa: two judgements of the same records.</summary>
public static class Kappa
{
    /// <summary>A smaller variance is a sum that is 0 but for rounding: one record of a thousand million that differs gives 1e-9.</summary>
    private const double NoVariance = 1e-24;

    public const string Source = "Cohen J. Educ Psychol Meas 1960;20:37-46; Psychol Bull 1968;70:213-220; standard error: Fleiss JL, "
        + "Cohen J, Everitt BS. Psychol Bull 1969;72:323-327";

    /// <summary>
    /// (o − e) / (1 − e) with o = Σ wᵢⱼ pᵢⱼ and e = Σ wᵢⱼ pᵢ. p.ⱼ, wᵢⱼ the weight of agreement; the interval is ± z standard errors, those
    /// of the source.
    /// </summary>
    /// <param name="table">How many records the first judged i and the second j, a square of at least two categories, at least one
    /// record.</param>
    /// <param name="weights">How disagreements count.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>null when both put every record into one and the same category, for then agreement by chance is certain.</returns>
    /// <remarks>
    /// Assumes independent records, each judged by both without knowing the other's. It depends on how common the categories are: two
    /// tables with the same share of agreement may differ much. The interval needs some fifty records, and there is none where the standard
    /// error is 0 (<see cref="KappaEstimate.WhyNoInterval"/>). Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">The table is no such square, or the level is out of range.</exception>
    public static KappaEstimate? Estimate(
        IReadOnlyList<IReadOnlyList<long>> table, KappaWeights weights = KappaWeights.None, double level = 0.95)
    {
        var k = table.Count;
        if (k < 2 || table.Any(row => row.Count != k || row.Any(cell => cell < 0)))
            throw new ArgumentOutOfRangeException(nameof(table), k,
                "agreement needs a square table of at least two categories, without negative counts");
        var n = table.Sum(row => row.Sum());
        if (n == 0)
            throw new ArgumentOutOfRangeException(nameof(table), n, "agreement needs at least one record");
        var z = Normal.TwoSided(level);
        double total = n;
        var rows = table.Select(row => row.Sum() / total).ToArray();
        var columns = Enumerable.Range(0, k).Select(j => table.Sum(row => row[j]) / total).ToArray();
        var observed = Sum((i, j) => Weight(i, j) * table[i][j] / total);
        var expected = Sum((i, j) => Weight(i, j) * rows[i] * columns[j]);
        // 1 − e as a sum of disagreements: exact where e is near 1.
        var room = Sum((i, j) => (1 - Weight(i, j)) * rows[i] * columns[j]);
        if (room == 0)
            return null;
        var value = 1 - (Sum((i, j) => (1 - Weight(i, j)) * table[i][j] / total) / room);
        var ofRow = Enumerable.Range(0, k).Select(i => Enumerable.Range(0, k).Sum(j => columns[j] * Weight(i, j))).ToArray();
        var ofColumn = Enumerable.Range(0, k).Select(j => Enumerable.Range(0, k).Sum(i => rows[i] * Weight(i, j))).ToArray();
        var centre = value - (expected * (1 - value));
        // The source's Σ p d² − centre² is the variance of d, whose mean is the centre.
        var variance =
            Sum((i, j) => table[i][j] / total * ChiSquare.Square(Weight(i, j) - ((ofRow[i] + ofColumn[j]) * (1 - value)) - centre));
        if (variance < NoVariance)
            return new(value, -1, 1, 0, level, observed, expected, n);
        var error = Math.Sqrt(variance / total) / room;
        return new(value, Math.Max(value - (z * error), -1), Math.Min(value + (z * error), 1), error, level, observed, expected, n);

        double Sum(Func<int, int, double> term) => Enumerable.Range(0, k).Sum(i => Enumerable.Range(0, k).Sum(j => term(i, j)));

        double Weight(int i, int j) => weights switch
        {
            KappaWeights.None => i == j ? 1 : 0,
            KappaWeights.Linear => 1 - (Math.Abs(i - j) / (k - 1.0)),
            KappaWeights.Quadratic => 1 - ChiSquare.Square((i - j) / (k - 1.0)),
            _ => throw new ArgumentOutOfRangeException(nameof(weights), weights, "there are no such weights"),
        };
    }
}
