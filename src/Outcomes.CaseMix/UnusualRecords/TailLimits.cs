namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>How far below and above the usual a residual may lie before it counts as unusual.</summary>
/// <remarks>
/// Residuals of physiology have long tails, and of different length on either side, so a limit from the normal distribution would cry wolf.
/// Each side's tail is taken to fall off exponentially between an inner and an outer quantile and is carried on from there to the share
/// asked for. Wrong values lie beyond the outer quantile as long as they are few, and so hardly move it.
/// </remarks>
internal readonly record struct TailLimits(double Lower, double Upper)
{
    public const string Source = "Exponential excesses over a threshold: Pickands J. Ann Stat 1975;3:119-131 (citation from memory)";

    /// <summary>The limits beyond which this share of the residuals is expected on each side; no limit where too few are known.</summary>
    public static TailLimits Of(IEnumerable<double> residuals, double share, int leastKnown, UnusualRecordOptions options)
    {
        double[] known = [.. residuals.Where(value => !double.IsNaN(value)).Order()];
        if (known.Length < leastKnown)
            return new(double.NegativeInfinity, double.PositiveInfinity);
        var upper = Upwards(known, share, options);
        double[] mirrored = [.. known.Select(value => -value).Reverse()];
        return new(-Upwards(mirrored, share, options), upper);
    }

    /// <summary>Distance over the limit of its side: 1 at the limit.</summary>
    public double Ratio(double residual) => residual < 0 ? residual / Lower : residual / Upper;

    private static double Upwards(double[] ascending, double share, UnusualRecordOptions options)
    {
        var (inner, outer) = (RobustScale.Quantile(ascending, options.Inner), RobustScale.Quantile(ascending, options.Outer));
        var scale = (outer - inner) / Math.Log((1 - options.Inner) / (1 - options.Outer));
        // Where a column is all alike on one side, one residual's spread is the least that counts.
        return Math.Max(1, outer + (scale * Math.Log((1 - options.Outer) / share)));
    }
}
