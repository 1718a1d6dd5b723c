namespace Outcomes.Statistics;

/// <summary>A value with its sampling variance, on a scale where values may be pooled.</summary>
public readonly record struct Effect(double Value, double Variance);

/// <summary>Scales on which proportions are pooled, and the way back.</summary>
public static class ProportionScale
{
    /// <summary>Where the double arcsine comes from.</summary>
    public const string DoubleArcsineSource = "Freeman MF, Tukey JW. Ann Math Stat 1950;21:607-611; Miller JJ. Am Stat 1978;32:138";

    /// <summary>
    /// ln(k/(n−k)) with variance 1/k + 1/(n−k); one half is added to k and n−k when either is 0, and only then. The usual scale, biased for rare
    /// events of few records.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The count is out of range.</exception>
    public static Effect Logit(Count count)
    {
        Requires.Counts(count.Met, count.Eligible);
        double met = count.Met, not = count.Eligible - count.Met;
        if (met == 0 || not == 0)
            (met, not) = (met + 0.5, not + 0.5);
        return new(Math.Log(met / not), (1 / met) + (1 / not));
    }

    /// <summary>The proportion of a logit.</summary>
    public static double FromLogit(double value) => 1 / (1 + Math.Exp(-value));

    /// <summary>
    /// Freeman and Tukey: ½ (asin √(k/(n+1)) + asin √((k+1)/(n+1))), with variance 1/(4n + 2). Steady near 0 and 1, but the way back
    /// needs one n for all, and misleads when sizes differ much (Schwarzer G et al. Res Synth Methods 2019;10:476-483; from memory).
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The count is out of range.</exception>
    public static Effect DoubleArcsine(Count count)
    {
        Requires.Counts(count.Met, count.Eligible);
        double k = count.Met, n = count.Eligible;
        return new((Math.Asin(Math.Sqrt(k / (n + 1))) + Math.Asin(Math.Sqrt((k + 1) / (n + 1)))) / 2, 1 / ((4 * n) + 2));
    }

    /// <summary>Miller's way back: ½ (1 − sgn(cos 2t) √(1 − (sin 2t + (sin 2t − 1/sin 2t)/n)²)), with n the harmonic mean of the sizes, cut to 0..1.</summary>
    /// <param name="value">t, on the double arcsine scale.</param>
    /// <param name="size">n, above 0.</param>
    public static double FromDoubleArcsine(double value, double size)
    {
        // Values beyond those of 0 of n and n of n have no proportion.
        double least = Math.Asin(Math.Sqrt(1 / (size + 1))) / 2, most = (Math.Asin(Math.Sqrt(size / (size + 1))) + (Math.PI / 2)) / 2;
        if (value <= least)
            return 0;
        if (value >= most)
            return 1;
        var sine = Math.Sin(2 * value);
        var inner = sine + ((sine - (1 / sine)) / size);
        return Math.Clamp((1 - (Math.Sign(Math.Cos(2 * value)) * Math.Sqrt(Math.Max(0, 1 - (inner * inner))))) / 2, 0, 1);
    }
}
