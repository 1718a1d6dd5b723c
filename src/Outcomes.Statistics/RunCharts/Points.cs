using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>The points of a chart from the months of a series.</summary>
internal static class Points
{
    public static ImmutableArray<RunChartPoint> ByMonth(Series series) =>
        [.. series.Counts.Select((count, month) => Point(month, 1, count))];

    /// <summary>Calendar quarters; a series that starts or ends inside one has a shorter first or last point.</summary>
    public static ImmutableArray<RunChartPoint> ByQuarter(Series series)
    {
        var points = ImmutableArray.CreateBuilder<RunChartPoint>();
        var start = 0;
        while (start < series.Counts.Length)
        {
            var left = 3 - ((series.Month - 1 + start) % 3);
            var months = Math.Min(left, series.Counts.Length - start);
            var sum = default(Count);
            for (var month = start; month < start + months; month++)
                sum += series.Counts[month];
            points.Add(Point(start, months, sum));
            start += months;
        }
        return points.ToImmutable();
    }

    /// <summary>The median of eligible cases over the points that have any; null when none has.</summary>
    public static double? MedianEligible(ImmutableArray<RunChartPoint> points) =>
        Medians.Find(points.Where(point => point.Count.Eligible > 0).Select(point => (double)point.Count.Eligible));

    /// <summary>The values of the points wholly inside the baseline, gaps left out.</summary>
    public static IEnumerable<double> Inside(ImmutableArray<RunChartPoint> points, (int From, int Months) baseline) =>
        points.Where(point => IsInside(point, baseline)).Select(point => point.Value).OfType<double>();

    public static bool IsInside(RunChartPoint point, (int From, int Months) baseline) =>
        point.Start >= baseline.From && point.Start + point.Months <= baseline.From + baseline.Months;

    private static RunChartPoint Point(int start, int months, Count count) =>
        new(start, months, count, count.Eligible == 0 ? null : (double)count.Met / count.Eligible);
}
