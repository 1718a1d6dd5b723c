using MathNet.Numerics.RootFinding;

namespace Outcomes.Statistics;

/// <summary>A proportion and its complement, found on the scale of log odds, where neither end of the line loses digits.</summary>
internal static class LogOdds
{
    /// <summary>
    /// The proportion p at which an increasing or decreasing function of p and q = 1 − p is 0, searched outwards from a start.
    /// </summary>
    /// <param name="function">Goes through 0 once between 0 and 1. Best nearly straight in the log odds: take logarithms of tail
    /// probabilities.</param>
    /// <param name="start">A proportion near the root; 0 and 1 are moved inwards.</param>
    public static double Root(Func<double, double, double> function, double start)
    {
        var middle = Math.Clamp(Math.Log(start / (1 - start)), -40, 40);
        return Proportion(Find(t => function(Proportion(t), Proportion(-t)), middle));
    }

    /// <summary>The t at which an increasing or decreasing function of any number is 0, searched outwards from a start.</summary>
    public static double Find(Func<double, double> function, double start)
    {
        var step = 0.5;
        var (low, high) = (start - step, start + step);
        var (atLow, atHigh) = (function(low), function(high));
        // One side at a time would do for a known direction; both keep the search the same for rising and falling functions.
        while (atLow * atHigh > 0 && step < 1_000)
        {
            step *= 2;
            (low, high) = (low - step, high + step);
            (atLow, atHigh) = (function(low), function(high));
        }
        return atLow == 0 ? low : atHigh == 0 ? high : Brent.FindRoot(function, low, high, 1e-14, 200);
    }

    /// <summary>ln(tail / target), finite even where the tail is too small for a number.</summary>
    public static double Log(double tail, double target) => Math.Log(Math.Max(tail, 1e-300) / target);

    /// <summary>1 / (1 + e^−t).</summary>
    public static double Proportion(double t) => t >= 0 ? 1 / (1 + Math.Exp(-t)) : Math.Exp(t) / (1 + Math.Exp(t));
}
