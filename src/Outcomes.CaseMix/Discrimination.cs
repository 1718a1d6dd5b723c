using Outcomes.Statistics;

namespace Outcomes.CaseMix;

/// <summary>The area under the ROC curve.</summary>
/// <param name="Value">The chance that a record that met has the higher score than one that did not, ties counted half.</param>
/// <param name="Variance">DeLong's variance of it.</param>
/// <param name="Interval">Value ± z standard errors, cut to 0 and 1.</param>
public sealed record Area(double Value, double Variance, Bounds Interval)
{
    /// <summary>Why there is no interval: its ends are then 0 and 1; null where there is one.</summary>
    public string? WhyNoInterval => Variance > 0 ? null : NoInterval.NoError;
}

/// <summary>How well scores tell those that met from those that did not.</summary>
public static class Discrimination
{
    // A sum of squares that is 0 but for rounding; one record out of place in a million has far more.
    private const double NoVariance = 1e-24;

    public const string Source = "DeLong ER, DeLong DM, Clarke-Pearson DL. Biometrics 1988;44:837-845; by ranks: Sun X, Xu W. "
        + "IEEE Signal Process Lett 2014;21:1389-1393";

    /// <summary>
    /// The area with DeLong's interval. With m that met, n that did not, V_i the share of the n that score below record i of the
    /// m (ties half) and W_j the share of the m above record j: mean V, variance var(V)/m + var(W)/n.
    /// </summary>
    /// <param name="scores">A score a record, higher for met; finite.</param>
    /// <param name="met">The outcomes; at least two that met and two that did not.</param>
    /// <param name="level">Two-sided confidence level.</param>
    /// <remarks>
    /// Edges: a perfect score, or one that is the same for all, has variance 0, which says nothing about the next records: there is no
    /// interval (<see cref="Area.WhyNoInterval"/>). Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentException">Too few outcomes of one kind, or lists of different lengths.</exception>
    public static Area Auc(IReadOnlyList<double> scores, IReadOnlyList<bool> met, double level = 0.95)
    {
        var (v, w) = Placements(scores, met);
        return Estimate(v, w, level);
    }

    private static Area Estimate(double[] v, double[] w, double level)
    {
        var value = v.Average();
        var variance = (Variance(v) / v.Length) + (Variance(w) / w.Length);
        var half = Normal.TwoSided(level) * Math.Sqrt(variance);
        if (variance < NoVariance)
            return new(value, 0, new(0, 1));
        return new(value, variance, new(Math.Max(0, value - half), Math.Min(1, value + half)));
    }

    // By mid-ranks, so that a million records are sorted and not compared in pairs.
    private static (double[] V, double[] W) Placements(IReadOnlyList<double> scores, IReadOnlyList<bool> met)
    {
        ArgumentNullException.ThrowIfNull(scores);
        ArgumentNullException.ThrowIfNull(met);
        if (scores.Count != met.Count || !scores.All(double.IsFinite))
            throw new ArgumentException($"each outcome needs a finite score; there are {scores.Count} scores and {met.Count} outcomes",
                nameof(scores));
        var (all, ones, zeros) = (Ranks(scores), Pick(true), Pick(false));
        if (ones.Length < 2 || zeros.Length < 2)
            throw new ArgumentException(
                $"an area needs two records that met and two that did not; there are {ones.Length} and {zeros.Length}", nameof(met));
        var (within1, within0) = (Ranks([.. ones.Select(i => scores[i])]), Ranks([.. zeros.Select(i => scores[i])]));
        return ([.. ones.Select((i, at) => (all[i] - within1[at]) / zeros.Length)],
            [.. zeros.Select((i, at) => 1 - ((all[i] - within0[at]) / ones.Length))]);

        int[] Pick(bool outcome) => [.. Enumerable.Range(0, met.Count).Where(i => met[i] == outcome)];
    }

    private static double[] Ranks(IReadOnlyList<double> values)
    {
        int[] order = [.. Enumerable.Range(0, values.Count).OrderBy(i => values[i])];
        var ranks = new double[values.Count];
        for (var from = 0; from < order.Length;)
        {
            var to = from;
            while (to < order.Length && values[order[to]] == values[order[from]])
                to++;
            for (var i = from; i < to; i++)
                ranks[order[i]] = (from + to + 1) / 2.0;
            from = to;
        }

        return ranks;
    }

    private static double Variance(double[] values)
    {
        var mean = values.Average();
        return values.Sum(value => (value - mean) * (value - mean)) / (values.Length - 1);
    }
}
