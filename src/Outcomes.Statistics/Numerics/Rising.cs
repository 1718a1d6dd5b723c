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

    /// <summary>
    /// The same with one logarithm for 32 factors, which is many times faster; the last digits differ.
    /// </summary>
    /// <param name="start">Above 1e-8 and below 1e6, so that no product of 32 factors leaves the range of a number.</param>
    /// <param name="count">Factors.</param>
    public static double LogInBlocks(double start, long count)
    {
        if (count > MostFactors)
            return Log(start, count);
        var (sum, product) = (0.0, 1.0);
        for (var i = 0; i < count; i++)
        {
            product *= start + i;
            if (i % 32 != 31)
                continue;
            sum += Math.Log(product);
            product = 1;
        }
        return sum + Math.Log(product);
    }
}
