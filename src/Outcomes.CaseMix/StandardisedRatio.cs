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
public sealed record Ratio(long Observed, double Expected, double Value, Bounds Interval)
{
    /// <summary>The standard error of what is expected; 0 where it is taken as known.</summary>
    public double ExpectedError { get; init; }
}

/// <summary>The indirectly standardised ratio.</summary>
public static class StandardisedRatio
{
    public const string Source = "Breslow NE, Day NE. Statistical Methods in Cancer Research II. IARC 1987, section 2.3 (exact, "
        + "and Byar's approximation); mid-P: Lancaster HO. J Am Stat Assoc 1961;56:223-234 (citations from memory)";

    /// <summary>The stable name that tables carry, where the error of what is expected is in the interval.</summary>
    public const string ErrorMethod = "poisson_model_error";

    /// <summary>Where the interval with the error of what is expected comes from.</summary>
    public const string ErrorSource =
        "Ederer F, Mantel N. Am J Epidemiol 1974;100:165-167 (ratio of two Poisson counts; Clopper CJ, Pearson "
            + "ES. Biometrika 1934;26:404-413); a weighted sum as a count of like mean and variance: Fay MP, Feuer EJ. "
            + "Stat Med 1997;16:791-801 "
            + "(citations from memory)";

    /// <summary>
    /// O / E where E comes from a model with the standard error s. E is as sure as a count of m = (E/s)² events, so that O and m are two
    /// Poisson counts: given O + m, O is binomial with the odds ρ E / m, ρ the true ratio. Limits are (m/E) π / (1 − π) with π the α/2
    /// quantile of Beta(O, m + 1) and the 1 − α/2 quantile of Beta(O + 1, m).
    /// </summary>
    /// <param name="observed">Events seen, 0 to 100 million.</param>
    /// <param name="expected">Events expected, above 0.</param>
    /// <param name="expectedError">Its standard error, 0 or more; 0, or less than a ten-thousandth of E, gives the exact interval of
    /// <see cref="Estimate(long, double, RatioInterval, double)"/>.</param>
    /// <param name="level">Two-sided confidence level.</param>
    /// <remarks>
    /// Takes events as rare, as the exact interval does, and is wider than need be where they are common. Takes E as independent of O:
    /// within the months that the model was fitted to they move together, and it is wider than need be there too. Edge: 0 events have a
    /// lower limit of 0. Source: <see cref="ErrorSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">An input is out of range.</exception>
    public static Ratio EstimateWithError(long observed, double expected, double expectedError, double level = 0.95)
    {
        if (!(expectedError >= 0 && double.IsFinite(expectedError)))
            throw new ArgumentOutOfRangeException(nameof(expectedError), expectedError, "a standard error is 0 or more and finite");
        var plain = Estimate(observed, expected, RatioInterval.Exact, level);
        if (expectedError < 1e-4 * expected)
            return plain with { ExpectedError = expectedError };
        var (count, tail) = (Math.Pow(expected / expectedError, 2), (1 - level) / 2);
        return plain with
        {
            ExpectedError = expectedError,
            Interval = new(
                observed == 0 ? 0 : Limit(tail, observed, count + 1, plain.Interval.Lower * expected / count) * count / expected,
                Limit(1 - tail, observed + 1, count, plain.Interval.Upper * expected / count) * count / expected),
        };
    }

    // The odds π / (1 − π) at a quantile of Beta(a, b), looked for round a guess on the scale of their logarithm.
    private static double Limit(double probability, double a, double b, double guess)
    {
        double Miss(double log) => SpecialFunctions.BetaRegularized(a, b, Math.Exp(log) / (1 + Math.Exp(log))) - probability;
        var (low, high) = (Math.Log(guess), Math.Log(guess));
        for (var step = 0.1; Miss(low) > 0; step *= 2)
            low -= step;
        for (var step = 0.1; Miss(high) < 0; step *= 2)
            high += step;
        return Math.Exp(low == high ? low : Brent.FindRoot(Miss, low, high, 1e-14, 200));
    }

    /// <summary>
    /// O / E, with limits of O as a Poisson count divided by E. Byar: O (1 − 1/(9O) − z/(3√O))³ / E and
    /// (O+1) (1 − 1/(9(O+1)) + z/(3√(O+1)))³ / E.
    /// </summary>
    /// <param name="observed">Events seen, 0 to 100 million.</param>
    /// <param name="expected">Events expected, above 0.</param>
    /// <param name="method">How the interval is made.</param>
    /// <param name="level">Two-sided confidence level.</param>
    /// <remarks>
    /// Takes E as known: where a model gave it, the interval is too narrow by the model's error. Takes events as rare: for
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
