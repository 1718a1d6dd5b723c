using NormalDistribution = MathNet.Numerics.Distributions.Normal;

namespace Outcomes.Statistics;

/// <summary>The standard normal quantile that two-sided intervals are built with.</summary>
public static class Normal
{
    /// <summary>The quantile for a two-sided 95 % interval, Φ⁻¹(0.975), correctly rounded to a double.</summary>
    public const double Z95 = 1.959963984540054;

    /// <summary>
    /// z such that a standard normal variable lies within ±z with probability <paramref name="level"/>: Φ⁻¹((1 + level) / 2).
    /// </summary>
    /// <param name="level">Confidence level, above 0 and below 1. 0.95 is answered from a constant: it is asked for at every count of a
    /// run.</param>
    /// <exception cref="ArgumentOutOfRangeException">The level is not above 0 and below 1.</exception>
    /// <remarks>
    /// Source: the inverse error function of MathNet.Numerics; 1.959963984540054 is the 97.5 % point in any table (ISO 3534-1 notation).
    /// </remarks>
    public static double TwoSided(double level)
    {
        if (level == 0.95)
            return Z95;
        Requires.Level(level);
        return NormalDistribution.InvCDF(0, 1, (1 + level) / 2);
    }
}
