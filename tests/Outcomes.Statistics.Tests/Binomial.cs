namespace Outcomes.Tests;

/// <summary>Binomial probabilities by adding up terms: slow, and independent of the library behind the statistics.</summary>
internal static class Binomial
{
    public static double Probability(int k, int n, double p)
    {
        var term = 1.0;
        for (var i = 1; i <= k; i++)
            term *= (n - k + i) * p / i;
        return term * Math.Pow(1 - p, n - k);
    }

    public static double AtLeast(int k, int n, double p) => Enumerable.Range(k, n - k + 1).Sum(i => Probability(i, n, p));
}
