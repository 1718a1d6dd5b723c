namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>A column's centre and spread, which a share of wrong values does not move.</summary>
/// <param name="Centre">The median.</param>
/// <param name="Spread">1.4826 times the median distance from it; where more than half are alike, the interquartile range
/// over 1.349.</param>
internal readonly record struct RobustScale(double Centre, double Spread)
{
    public const string Source = "Hampel FR. J Am Stat Assoc 1974;69:383-393 (citation from memory)";

    /// <summary>The scale of the known values; null when too few are known or too many alike.</summary>
    public static RobustScale? Of(IEnumerable<double> values, int leastKnown)
    {
        double[] known = [.. values.Where(value => !double.IsNaN(value)).Order()];
        if (known.Length < leastKnown)
            return null;
        var centre = Quantile(known, 0.5);
        var spread = 1.4826 * Quantile([.. known.Select(value => Math.Abs(value - centre)).Order()], 0.5);
        if (spread <= 0)
            spread = (Quantile(known, 0.75) - Quantile(known, 0.25)) / 1.349;
        return spread > 0 ? new(centre, spread) : null;
    }

    /// <summary>A value of a column as it is compared.</summary>
    public static double Compared(RecordColumn column, int record)
    {
        var value = column.Values[record];
        return column.Logarithm ? Math.CopySign(Math.Log(1 + Math.Abs(value)), value) : value;
    }

    public double Standardise(double value) => (value - Centre) / Spread;

    /// <summary>The quantile of ascending values, linear between neighbours (type 7 of Hyndman and Fan 1996).</summary>
    public static double Quantile(ReadOnlySpan<double> ascending, double share)
    {
        var at = share * (ascending.Length - 1);
        var below = (int)at;
        return below + 1 < ascending.Length
            ? ascending[below] + ((at - below) * (ascending[below + 1] - ascending[below]))
            : ascending[below];
    }
}
