using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>
/// Tails and quantiles of the binomial and the Poisson distribution by adding terms, from the one nearest the middle outwards.
/// </summary>
/// <remarks>
/// A tail keeps its relative precision however small it is: about 1e-13 at a thousand trials, 1e-9 at a million, from the logarithm of the
/// first term. Probabilities lie strictly between 0 and 1, means above 0; callers close the edges.
/// </remarks>
internal static class DiscreteTails
{
    private const double Negligible = 1e-18;

    /// <summary>P(X ≤ k) for n trials at p.</summary>
    public static double BinomialAtMost(long k, long n, double p) =>
        k < 0 ? 0 : k >= n ? 1 : k <= n * p ? LowerBinomial(k, n, p) : 1 - LowerBinomial(n - k - 1, n, 1 - p);

    /// <summary>P(X ≥ k) for n trials at p.</summary>
    public static double BinomialAtLeast(long k, long n, double p) => BinomialAtMost(n - k, n, 1 - p);

    /// <summary>P(X = k) for n trials at p.</summary>
    public static double Binomial(long k, long n, double p) =>
        k < 0 || k > n ? 0
        : Math.Exp(SpecialFunctions.GammaLn(n + 1.0) - SpecialFunctions.GammaLn(k + 1.0) - SpecialFunctions.GammaLn(n - k + 1.0)
            + (k * Math.Log(p)) + ((n - k) * SpecialFunctions.Log1p(-p)));

    /// <summary>P(X ≤ k) for a Poisson count.</summary>
    public static double PoissonAtMost(long k, double mean) =>
        k < 0 ? 0 : k <= mean ? LowerPoisson(k, mean) : 1 - UpperPoisson(k + 1, mean);

    /// <summary>P(X ≥ k) for a Poisson count.</summary>
    public static double PoissonAtLeast(long k, double mean) =>
        k <= 0 ? 1 : k > mean ? UpperPoisson(k, mean) : 1 - LowerPoisson(k - 1, mean);

    /// <summary>
    /// The smallest and largest counts inside: fewer than the smallest has at most the tail's probability, and so has more than the
    /// largest.
    /// </summary>
    public static (long Least, long Most) BinomialInside(double tail, long n, double p)
    {
        var least = Least(tail, n * p, k => BinomialAtMost(k, n, p));
        return (least, n - Least(tail, n * (1 - p), k => BinomialAtMost(k, n, 1 - p)));
    }

    /// <summary>The same for a Poisson count.</summary>
    public static (long Least, long Most) PoissonInside(double tail, double mean)
    {
        var least = Least(tail, mean, k => PoissonAtMost(k, mean));
        // P(X ≥ k) falls with k: the largest inside is one below the first k whose upper tail is no larger than the tail.
        long outside = (long)Math.Ceiling(mean) + 1, inside = 0;
        while (PoissonAtLeast(outside, mean) > tail)
            (inside, outside) = (outside, outside + Math.Max(1, outside / 2));
        while (outside - inside > 1)
        {
            var middle = inside + ((outside - inside) / 2);
            (inside, outside) = PoissonAtLeast(middle, mean) > tail ? (middle, outside) : (inside, middle);
        }
        return (least, inside);
    }

    /// <summary>The least k whose lower tail reaches the given one: fewer than k is then no likelier than it.</summary>
    private static long Least(double tail, double mean, Func<long, double> atMost)
    {
        long below = -1, reached = (long)Math.Ceiling(mean) + 1;
        while (reached - below > 1)
        {
            var middle = below + ((reached - below) / 2);
            (below, reached) = atMost(middle) >= tail ? (below, middle) : (middle, reached);
        }
        return reached;
    }

    private static double LowerBinomial(long k, long n, double p)
    {
        double term = Binomial(k, n, p), sum = term, odds = p / (1 - p);
        for (var i = k; i > 0 && term > sum * Negligible; i--)
            sum += term *= i / ((n - i + 1) * odds);
        return Math.Min(1, sum);
    }

    private static double LowerPoisson(long k, double mean)
    {
        double term = Poisson(k, mean), sum = term;
        for (var i = k; i > 0 && term > sum * Negligible; i--)
            sum += term *= i / mean;
        return Math.Min(1, sum);
    }

    private static double UpperPoisson(long k, double mean)
    {
        double term = Poisson(k, mean), sum = term;
        for (var i = k + 1; term > sum * Negligible; i++)
            sum += term *= mean / i;
        return Math.Min(1, sum);
    }

    private static double Poisson(long k, double mean) => Math.Exp((k * Math.Log(mean)) - mean - SpecialFunctions.GammaLn(k + 1.0));
}
