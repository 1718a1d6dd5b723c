using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>Quantiles of the beta distribution, and of others through it, that the library gives too coarsely.</summary>
internal static class BetaQuantiles
{
    /// <summary>
    /// x with P(Beta(a, b) ≤ x) = probability, to about 1e-13 of x or of 1 − x, whichever is nearer 0: Newton's method kept in a bracket.
    /// </summary>
    public static double Beta(double probability, double a, double b)
    {
        double low = 0, high = 1, x = a / (a + b);
        var scale = SpecialFunctions.GammaLn(a + b) - SpecialFunctions.GammaLn(a) - SpecialFunctions.GammaLn(b);
        for (var step = 0; step < 200 && low < high; step++)
        {
            var miss = SpecialFunctions.BetaRegularized(a, b, x) - probability;
            if (miss == 0)
                return x;
            (low, high) = miss > 0 ? (low, x) : (x, high);
            var next = x - (miss / Math.Exp(scale + ((a - 1) * Math.Log(x)) + ((b - 1) * SpecialFunctions.Log1p(-x))));
            if (!(next > low && next < high))
                next = (low + high) / 2;
            if (Math.Abs(next - x) < 1e-15 * Math.Min(x, 1 - x) || next == x)
                return next;
            x = next;
        }
        return x;
    }

    /// <summary>t with P(|T| ≤ t) = level for Student's distribution, through T² = ν (1/B − 1) with B from Beta(ν/2, 1/2).</summary>
    public static double StudentTwoSided(double level, double degrees) =>
        Math.Sqrt(degrees * ((1 / Beta(1 - level, degrees / 2, 0.5)) - 1));
}
