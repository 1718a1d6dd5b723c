namespace Outcomes.Statistics;

/// <summary>The exact test of one proportion against a given one.</summary>
public static class BinomialTest
{
    /// <summary>Two outcomes this close in probability count as equally likely: they are, but for rounding.</summary>
    internal const double Slack = 1 + 1e-7;

    /// <summary>
    /// The probability, under Binomial(n, p), of all outcomes no more likely than the one seen (within 1e-7 of it, which rounding needs).
    /// </summary>
    /// <param name="met">Records that met the measure, 0 to <paramref name="eligible"/>.</param>
    /// <param name="eligible">Records judged, at least 1.</param>
    /// <param name="p">The proportion to test, above 0 and below 1.</param>
    /// <param name="q">1 − p, given apart so that neither loses its digits when small.</param>
    /// <returns>From 0 to 1.</returns>
    /// <remarks>
    /// Assumes independent records. Other two-sided p values exist (twice the smaller tail): say which.
    /// Source: the rule of least likely outcomes, as in Fisher's exact test; common practice.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the proportion is out of range.</exception>
    public static double TwoSided(long met, long eligible, double p, double q)
    {
        Requires.Counts(met, eligible);
        if (!(p > 0 && q > 0))
            throw new ArgumentOutOfRangeException(nameof(p), p, "the proportion to test lies above 0 and below 1");
        var mean = eligible * p;
        if (met == mean)
            return 1;
        // Below the mean the probabilities rise, above it they fall: the far tail starts where they are as small again.
        return met < mean
            ? AtMost(met, eligible, p, q) + AtMost(Last(met, eligible, p, q), eligible, q, p)
            : AtMost(eligible - met, eligible, q, p) + AtMost(Last(eligible - met, eligible, q, p), eligible, p, q);
    }

    /// <summary>
    /// For k below the mean of Binomial(n, p), how far from n the outcomes above it that are no more likely reach: the largest j for
    /// which n − j is no more likely than k; −1 when none is.
    /// </summary>
    private static long Last(long k, long n, double p, double q)
    {
        var seen = BinomialTerm.Log(k, n, p, q) + Math.Log(Slack);
        var (none, some) = (n - (long)Math.Ceiling(n * p) + 1, -1L);
        while (none - some > 1)
        {
            var middle = some + ((none - some) / 2);
            if (BinomialTerm.Log(n - middle, n, p, q) <= seen)
                some = middle;
            else
                none = middle;
        }
        return some;
    }

    private static double AtMost(long k, long n, double p, double q) => k < 0 ? 0 : k >= n ? 1 : IncompleteBeta.AtMost(k, n, p, q);
}
