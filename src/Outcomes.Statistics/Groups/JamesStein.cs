using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>Values of one known variance pulled towards their mean.</summary>
/// <param name="Mean">The mean of all.</param>
/// <param name="Factor">What is left of each distance from it, 0 to 1.</param>
/// <param name="Values">The shrunken values, in the order given.</param>
public sealed record JamesSteinEstimate(double Mean, double Factor, ImmutableArray<double> Values);

/// <summary>The estimator of James and Stein towards the mean.</summary>
public static class JamesStein
{
    /// <summary>Where the method comes from.</summary>
    public const string Source =
        "Efron B, Morris C. Sci Am 1977;236(5):119-127; Efron B, Morris C. J Am Stat Assoc 1975;70:311-319 (from memory)";

    /// <summary>mean + c (value − mean) with c = max(0, 1 − (k − 3) σ² / Σ (value − mean)²), for k values of one variance σ².</summary>
    /// <param name="values">At least four, of groups of equal size.</param>
    /// <param name="variance">σ², above 0 and known.</param>
    /// <remarks>
    /// For teaching what shrinkage does: groups of unequal size need <see cref="BetaBinomial"/>. It is nearer the truth for all together,
    /// not for each. All values equal: c = 0. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than four values, or a variance not above 0.</exception>
    public static JamesSteinEstimate Shrink(ImmutableArray<double> values, double variance)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(values.Length, 4, nameof(values));
        if (!(variance > 0))
            throw new ArgumentOutOfRangeException(nameof(variance), variance, "a variance lies above 0");
        var mean = values.Average();
        var spread = values.Sum(value => (value - mean) * (value - mean));
        var factor = Math.Max(0, 1 - ((values.Length - 3) * variance / spread));
        return new(mean, factor, [.. values.Select(value => mean + (factor * (value - mean)))]);
    }
}
