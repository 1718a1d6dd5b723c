namespace Outcomes.Statistics;

/// <summary>A value with its sampling variance, on a scale where values may be pooled.</summary>
public readonly record struct Effect(double Value, double Variance);

/// <summary>The logit, on which proportions are pooled, and the way back.</summary>
public static class ProportionScale
{
    /// <summary>
    /// ln(k/(n−k)) with variance 1/k + 1/(n−k); one half is added to k and n−k when either is 0, and only then. The usual scale, biased for
    /// rare events of few records.
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
}
