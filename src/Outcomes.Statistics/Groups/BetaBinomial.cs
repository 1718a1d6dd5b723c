using System.Collections.Immutable;
using MathNet.Numerics.RootFinding;

namespace Outcomes.Statistics;

/// <summary>How the true proportions of groups are spread: a beta distribution with this mean.</summary>
/// <param name="Mean">Mean of the true proportions, a fraction.</param>
/// <param name="Spread">1/(a + b), the inverse of the beta distribution's size: 0 when chance explains all differences.</param>
public sealed record BetaPrior(double Mean, double Spread);

/// <summary>A group's proportion pulled towards the mean of all, as far as its own records leave it open.</summary>
/// <param name="Group">Its name.</param>
/// <param name="Count">Its count.</param>
/// <param name="Value">Shrunken proportion.</param>
/// <param name="Within">Its interval; null when the spread is 0, where the method has none.</param>
public sealed record ShrunkenEstimate(string Group, Count Count, double Value, Bounds? Within);

/// <summary>Shrunken estimates of many groups (empirical Bayes).</summary>
/// <param name="Prior">The distribution of true proportions.</param>
/// <param name="Groups">In the order given; never ranked.</param>
/// <param name="Level">Level of the intervals.</param>
public sealed record Shrinkage(BetaPrior Prior, ImmutableArray<ShrunkenEstimate> Groups, double Level);

/// <summary>Empirical Bayes for proportions by the beta-binomial model.</summary>
public static class BetaBinomial
{
    /// <summary>Where the method comes from.</summary>
    public const string Source = "Griffiths DA. Biometrics 1973;29:637-648 (maximum likelihood); Morris CN. "
        + "J Am Stat Assoc 1983;78:47-55 (empirical Bayes); citations from memory";

    /// <summary>
    /// The prior by maximum likelihood of the counts, true proportions integrated out: mean μ and spread ρ maximise
    /// Σ groups [Σ_{j&lt;k} ln(μ + jρ) + Σ_{j&lt;n−k} ln(1 − μ + jρ) − Σ_{j&lt;n} ln(1 + jρ)].
    /// </summary>
    /// <param name="counts">One count a group, at least two with records; met and not met both occur.</param>
    /// <returns>
    /// ρ = 0 (and μ pooled) when the likelihood falls from there. Otherwise the root of the derivative that is reached first from 0.
    /// </returns>
    /// <remarks>
    /// The likelihood is flat: the mean is sharp, the spread is not unless there are many groups. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than two groups with records, none or all met, or every group all or
    /// nothing.</exception>
    public static BetaPrior Fit(ImmutableArray<Count> counts)
    {
        foreach (var count in counts)
            Requires.Counts(count, nameof(counts));
        (long Met, long Not)[] data =
            [.. counts.Where(count => count.Eligible > 0).Select(count => (count.Met, count.Eligible - count.Met))];
        long met = data.Sum(pair => pair.Met), eligible = met + data.Sum(pair => pair.Not);
        if (data.Length < 2 || met == 0 || met == eligible || data.All(pair => pair.Met == 0 || pair.Not == 0))
            throw new ArgumentOutOfRangeException(nameof(counts), counts.Length,
                "two groups with records are needed, and one in which some met and some did not");
        var mean = (double)met / eligible;
        if (SpreadScore(data, mean, 0) <= 0)
            return new(mean, 0);
        // The best mean at each spread makes the derivative by the spread that of the likelihood maximised over the mean.
        double AtLog(double log) => SpreadScore(data, mean = MeanAt(data, mean, Math.Exp(log)), Math.Exp(log));
        double low = -16, high = -14;
        while (AtLog(high) > 0)
            (low, high) = (high, high + 1);
        while (AtLog(low) <= 0)
            low -= 4;
        var spread = Math.Exp(Brent.FindRoot(AtLog, low, high, 1e-14, 200));
        return new(MeanAt(data, mean, spread), spread);
    }

    /// <summary>
    /// Each group's posterior mean (k + a)/(n + a + b) with a = μ/ρ and b = (1−μ)/ρ, and the interval between the quantiles of Beta(a + k,
    /// b + n − k) that leave half of 1 − level beyond each.
    /// </summary>
    /// <param name="groups">One count a group; a group without records gets the mean.</param>
    /// <param name="level">Level of the intervals, above 0 and below 1.</param>
    /// <remarks>
    /// Assumes groups whose true proportions come from one beta distribution: exchangeable, of comparable case mix. The intervals take μ
    /// and ρ as known, so they are too narrow with few groups. A shrunken estimate is biased for each group and nearer the truth for all
    /// together. Not for ranking. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">As <see cref="Fit"/>, or the level is out of range.</exception>
    public static Shrinkage Shrink(ImmutableArray<GroupCount> groups, double level = 0.95)
    {
        Requires.Level(level);
        var prior = Fit([.. groups.Select(group => group.Count)]);
        return new(prior, [.. groups.Select(group => Posterior(group, prior, level))], level);
    }

    private static ShrunkenEstimate Posterior(GroupCount group, BetaPrior prior, double level)
    {
        double k = group.Count.Met, n = group.Count.Eligible, tail = (1 - level) / 2;
        var value = ((k * prior.Spread) + prior.Mean) / ((n * prior.Spread) + 1);
        if (prior.Spread == 0)
            return new(group.Group, group.Count, value, null);
        double a = (prior.Mean / prior.Spread) + k, b = ((1 - prior.Mean) / prior.Spread) + n - k;
        return new(group.Group, group.Count, value, new(BetaQuantiles.Beta(tail, a, b), 1 - BetaQuantiles.Beta(tail, b, a)));
    }

    /// <summary>
    /// The mean that maximises the likelihood at this spread: concave in the mean, so Newton's method, halved where it would leave (0, 1).
    /// </summary>
    private static double MeanAt((long Met, long Not)[] data, double start, double spread)
    {
        var mean = start;
        for (var step = 0; step < 200; step++)
        {
            double slope = 0, curve = 0;
            foreach (var (met, not) in data)
            {
                for (long j = 0; j < met; j++)
                    Add(1 / (mean + (j * spread)));
                for (long j = 0; j < not; j++)
                    Add(-1 / (1 - mean + (j * spread)));
            }
            void Add(double term)
            {
                slope += term;
                curve += term * term;
            }
            var next = mean + (slope / curve);
            next = next <= 0 ? mean / 2 : next >= 1 ? (1 + mean) / 2 : next;
            if (Math.Abs(next - mean) < 1e-15 * Math.Min(mean, 1 - mean))
                return next;
            mean = next;
        }
        return mean;
    }

    private static double SpreadScore((long Met, long Not)[] data, double mean, double spread)
    {
        var score = 0.0;
        foreach (var (met, not) in data)
        {
            for (long j = 1; j < met; j++)
                score += j / (mean + (j * spread));
            for (long j = 1; j < not; j++)
                score += j / (1 - mean + (j * spread));
            for (long j = 1; j < met + not; j++)
                score -= j / (1 + (j * spread));
        }
        return score;
    }
}
