using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Where a run chart's longest run lies: indexes of its first and last point, and its side of the median.</summary>
public readonly record struct LongestRun(int First, int Last, bool Above)
{
    /// <summary>
    /// The latest of the longest runs; null when the chart has none. A point on the median neither breaks nor lengthens a run.
    /// </summary>
    public static LongestRun? Of(RunChart chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        if (chart.Median is not { } median)
            return null;
        LongestRun? longest = null;
        var (start, length, side) = (0, 0, 0);
        for (var i = 0; i < chart.Points.Length; i++)
        {
            // A proportion on the median may differ from it in the last bit.
            if (chart.Points[i].Value is not { } value || Math.Abs(value - median) < 1e-12)
                continue;
            var here = value > median ? 1 : -1;
            (start, length, side) = here == side ? (start, length + 1, side) : (i, 1, here);
            if (length == chart.LongestRun)
                longest = new(start, i, side > 0);
        }

        return longest;
    }
}
