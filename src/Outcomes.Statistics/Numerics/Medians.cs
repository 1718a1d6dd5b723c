namespace Outcomes.Statistics;

/// <summary>The median, the mean of the two middle values when their number is even.</summary>
internal static class Medians
{
    /// <summary>The median of the values; null when there is none.</summary>
    public static double? Find(IEnumerable<double> values)
    {
        double[] sorted = [.. values];
        Array.Sort(sorted);
        return sorted.Length == 0 ? null : OfSorted(sorted);
    }

    /// <summary>The median of at least one value in ascending order.</summary>
    public static double OfSorted(ReadOnlySpan<double> sorted)
    {
        var middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
