namespace Outcomes.Statistics;

/// <summary>One binomial probability, right to about 1e-14 of itself however many records there are.</summary>
internal static class BinomialTerm
{
    private const double HalfLogTwoPi = 0.918938533204672741780329736406;

    /// <summary>Γ(n+1) / (Γ(k+1) Γ(n−k+1)) · pᵏ qⁿ⁻ᵏ; k and n need not be whole.</summary>
    /// <param name="k">From 0 to <paramref name="n"/>.</param>
    /// <param name="n">Above 0.</param>
    /// <param name="p">From 0 to 1.</param>
    /// <param name="q">1 − p, given apart so that neither loses its digits when small.</param>
    /// <remarks>
    /// The three factorials nearly cancel, and so do the powers: each is written as its distance from Stirling's formula and from
    /// n·p, which are small. Source: Loader C. Fast and accurate computation of binomial probabilities. 2000 (saddle-point expansion).
    /// </remarks>
    public static double Of(double k, double n, double p, double q) => Math.Exp(Log(k, n, p, q));

    /// <summary>The logarithm of <see cref="Of"/>; negative infinity where it is 0.</summary>
    public static double Log(double k, double n, double p, double q)
    {
        var rest = n - k;
        if (k == 0)
            return n * LogOf(q, p);
        if (rest == 0)
            return n * LogOf(p, q);
        if (p <= 0 || q <= 0)
            return double.NegativeInfinity;
        var stirling = StirlingError(n) - StirlingError(k) - StirlingError(rest);
        return stirling - Deviance(k, n * p) - Deviance(rest, n * q) - HalfLogTwoPi + (0.5 * Math.Log(n / k / rest));
    }

    /// <summary>
    /// One Poisson probability in logarithm: ln(meanᵏ e^−mean / Γ(k+1)), k above 0 and not only whole, to the same digits.
    /// </summary>
    public static double PoissonLog(double k, double mean) =>
        -StirlingError(k) - Deviance(k, mean) - HalfLogTwoPi - (0.5 * Math.Log(k));

    /// <summary>k ln(k / mean) + mean − k: how far a count lies from its mean, without the loss of digits when they are close.</summary>
    public static double Deviance(double k, double mean)
    {
        if (k == 0)
            return mean;
        if (Math.Abs(k - mean) > 0.1 * (k + mean))
            return (k * Math.Log(k / mean)) + mean - k;
        var v = (k - mean) / (k + mean);
        var sum = (k - mean) * v;
        var power = 2 * k * v;
        for (var j = 3; j < 1_000; j += 2)
        {
            power *= v * v;
            var next = sum + (power / j);
            if (next == sum)
                break;
            sum = next;
        }
        return sum;
    }

    /// <summary>ln of a probability from whichever of it and its complement is the smaller.</summary>
    private static double LogOf(double p, double complement) => p < 0.5 ? Math.Log(p) : SmallNumbers.LogOnePlus(-complement);

    /// <summary>ln Γ(z+1) − (z + ½) ln z + z − ½ ln 2π: what Stirling's formula leaves out.</summary>
    private static double StirlingError(double z)
    {
        var below = 0.0;
        // Stirling's series is exact to a double from here on; below it one recursion step after the other leads there.
        for (; z < 16; z++)
            below += ((z + 0.5) * SmallNumbers.LogOnePlus(1 / z)) - 1;
        var s = 1 / (z * z);
        return below + ((1.0 / 12)
            - (((1.0 / 360) - (((1.0 / 1260) - (((1.0 / 1680) - (((1.0 / 1188) - (691.0 / 360360 * s)) * s)) * s)) * s)) * s)) / z;
    }
}
