using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>ln of rising products, of which beta-binomial probabilities are made.</summary>
internal static class Rising
{
    /// <summary>Products of more factors come from the gamma function; 3²⁵⁶ is still far from the largest number.</summary>
    public const int MostFactors = 256;

    /// <summary>Σ ln(start + i) over i below count.</summary>
    /// <remarks>Few factors are summed one by one: where start is large, the difference of two log gammas would lose digits.</remarks>
    public static double Log(double start, long count)
    {
        if (count > MostFactors)
            return SpecialFunctions.GammaLn(start + count) - SpecialFunctions.GammaLn(start);
        var sum = 0.0;
        for (var i = 0; i < count; i++)
            sum += Math.Log(start + i);
        return sum;
    }
}
