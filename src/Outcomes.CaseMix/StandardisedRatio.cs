using MathNet.Numerics;
using MathNet.Numerics.RootFinding;
using Outcomes.Statistics;

namespace Outcomes.CaseMix;

/// <summary>How a standardised ratio's interval is made.</summary>
public enum RatioInterval
{
    /// <summary>Exact Poisson (Garwood): never covers less than its level.</summary>
    Exact,

    /// <summary>Exact with half the probability of the count seen: narrower, right on average.</summary>
    MidP,

    /// <summary>Byar's approximation to the exact one, in closed form.</summary>
    Byar,
}

/// <summary>Observed over expected events.</summary>
/// <param name="Observed">Events seen.</param>
/// <param name="Expected">Events expected: the sum of the records' chances.</param>
/// <param name="Value">Their ratio; 1 is as expected.</param>
/// <param name="Interval">Its interval.</param>
public sealed record Ratio(long Observed, double Expected, double Value, Bounds Interval);

/// <summary>The indirectly standardised ratio.</summary>
public static class StandardisedRatio
{
    public const string Source = "Breslow NE, Day NE. Statistical Methods in Cancer Research II. IARC 1987, section 2.3 (exact, "
        + "and Byar's approximation); mid-P: Lancaster HO. J Am Stat Assoc 1961;56:223-234 (citations from memory)";

    /// <summary>
    /// O / E, with limits of O as a Poisson count divided by E. Byar: O (1 − 1/(9O) − z/(3√O))³ / E and
    /// (O+1) (1 − 1/(9(O+1)) + z/(3√(O+1)))³ / E.
    /// </summary>
    /// <param name="observed">Events seen, 0 to 100 million.</param>
    /// <param name="expected">Events expected, above 0.</param>
    /// <param name="method">How the interval is made.</param>
    /// <param name="level">Two-sided confidence level.</param>
    /// <remarks>
    /// Takes E as known: the model's own error is not in the interval, which is too narrow by it. Takes events as rare: for
    /// common ones a Poisson count varies more than a sum of yes and no, and the interval is too wide. Edges: 0 events have a lower limit
    /// of 0 by every method. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">An input is out of range.</exception>
    public static Ratio Estimate(long observed, double expected, RatioInterval method = RatioInterval.Exact, double level = 0.95)
    {
        var exact = ExactPoisson.Interval(observed, expected, level);
        var interval = method switch
        {
            RatioInterval.Exact => exact,
            RatioInterval.MidP => MidP(observed, expected, level, exact),
            _ => Byar(observed, expected, Normal.TwoSided(level)),
        };
        return new(observed, expected, observed / expected, interval);
    }

    private static Bounds Byar(double k, double expected, double z) => new(
        k == 0 ? 0 : k * Math.Pow(1 - (1 / (9 * k)) - (z / (3 * Math.Sqrt(k))), 3) / expected,
        (k + 1) * Math.Pow(1 - (1 / (9 * (k + 1))) + (z / (3 * Math.Sqrt(k + 1))), 3) / expected);

    // Both ends lie inside the exact interval.
    private static Bounds MidP(long k, double expected, double level, Bounds exact)
    {
        var tail = (1 - level) / 2;
        var (low, high) = (exact.Lower * expected, exact.Upper * expected);
        return new(
            k == 0 ? 0 : Brent.FindRoot(mean => 1 - AtMost(mean) - tail, low, k, 1e-13 * k, 200) / expected,
            Brent.FindRoot(mean => AtMost(mean) - tail, Math.Max(k, 1e-12), high, 1e-13 * (k + 1), 200) / expected);

        // P(X < k) + P(X = k) / 2.
        double AtMost(double mean) => (Below(k, mean) + Below(k + 1, mean)) / 2;

        static double Below(long count, double mean) => count == 0 ? 0 : SpecialFunctions.GammaUpperRegularized(count, mean);
    }
}
