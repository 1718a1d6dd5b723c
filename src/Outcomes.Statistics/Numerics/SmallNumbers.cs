namespace Outcomes.Statistics;

/// <summary>Functions that keep their last digits for arguments near 0. The library's Expm1 is right to 1e-9 only about −0.08.</summary>
/// <remarks>
/// Source: Kahan's quotient, in which the rounding of 1 + x or eˣ cancels: Higham NJ. Accuracy and Stability of Numerical Algorithms, 2nd
/// ed. 2002, section 1.14.1.
/// </remarks>
internal static class SmallNumbers
{
    /// <summary>ln(1 + x), x above −1.</summary>
    public static double LogOnePlus(double x)
    {
        var sum = 1 + x;
        return sum == 1 ? x : Math.Log(sum) * (x / (sum - 1));
    }

    /// <summary>eˣ − 1.</summary>
    public static double ExpMinusOne(double x)
    {
        var power = Math.Exp(x);
        return power == 1 ? x : power - 1 == -1 ? -1 : (power - 1) * (x / Math.Log(power));
    }
}
