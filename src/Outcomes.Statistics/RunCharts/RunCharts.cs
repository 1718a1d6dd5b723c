using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>Makes run charts of series.</summary>
public static class RunCharts
{
    /// <summary>Where the rules come from.</summary>
    public const string Source = "Anhøj J, Olesen AV. PLoS ONE 2014;9:e113825; Perla RJ, Provost LP, Murray SK. BMJ Qual Saf 2011;20:46-51";

    /// <summary>A chart with fewer useful points is not tested.</summary>
    public const int MinimumUseful = 10;

    /// <summary>A value this near the median is on it: proportions of different denominators that are equal differ by rounding.</summary>
    private const double OnMedian = 1e-12;

    /// <summary>
    /// A run chart of the proportion met: the median of the baseline's points, and over all points off the median (the useful ones)
    /// the longest run on one side and the number of crossings, with their limits by Anhøj and Olesen.
    /// </summary>
    /// <returns>
    /// The chart. Its numbers are computed even where <see cref="RunChart.Untested"/> says that they must not be read as a test.
    /// Values are fractions; positions are 0-based months of the series.
    /// </returns>
    /// <remarks>
    /// <para>Points: a month, or a calendar quarter when the median of eligible cases over months that have any is below
    /// <see cref="RunChartOptions.MinimumEligible"/>. A series that starts or ends inside a quarter has a shorter first or last point.
    /// A point without eligible cases is a gap: it is no zero, and neither breaks nor lengthens a run.</para>
    /// <para>Baseline: the median of the values of the points that lie wholly inside the baseline months, so that it stays as it is
    /// when months are added.</para>
    /// <para>Not tested, in this order of reasons: no baseline value; too few cases a point; median at 0 or 1; fewer than
    /// <see cref="MinimumUseful"/> useful points.</para>
    /// <para>Assumes independent points. Looked at every month, a stable department sees a signal far more often than the
    /// chance of one look says.</para>
    /// <para>Source: <see cref="Source"/>: the limits from the first, median and useful points from the second. Ten cases a point and ten
    /// useful points are house rules, from simulation.</para>
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or an option is out of range.</exception>
    public static RunChart Analyse(Series series, RunChartOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(series);
        options ??= new();
        ArgumentOutOfRangeException.ThrowIfNegative(options.BaselineFrom, nameof(options));
        ArgumentOutOfRangeException.ThrowIfNegative(options.BaselineMonths, nameof(options));
        ArgumentOutOfRangeException.ThrowIfLessThan(options.Replicates, 1, nameof(options));
        ArgumentOutOfRangeException.ThrowIfLessThan(series.Month, 1, nameof(series));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(series.Month, 12, nameof(series));
        foreach (var count in series.Counts)
            Requires.Counts(count, nameof(series));

        var months = Points.ByMonth(series);
        var span = options.Span ?? (Points.MedianEligible(months) >= options.MinimumEligible ? PointSpan.Month : PointSpan.Quarter);
        var points = span == PointSpan.Month ? months : Points.ByQuarter(series);
        var from = Math.Min(options.BaselineFrom, series.Counts.Length);
        var baseline = (From: from, Months: Math.Min(options.BaselineMonths, series.Counts.Length - from));
        var few = options.Span is null ? span == PointSpan.Quarter : !(Points.MedianEligible(points) >= options.MinimumEligible);
        var median = Medians.Find(Points.Inside(points, baseline));
        var sides = Sides(points, median);
        var (longest, crossings) = LongestAndCrossings(sides);
        var chart = new RunChart
        {
            Span = span,
            Points = points,
            Baseline = baseline,
            Median = median,
            Useful = sides.Length,
            LongestRun = longest,
            RunLimit = LongestRunAndCrossings.RunLimit(sides.Length),
            Crossings = crossings,
            CrossingsLimit = LongestRunAndCrossings.CrossingsLimit(sides.Length),
            Untested = Reason(median, few, sides.Length),
            Chance = null,
            ChanceMethod = ChanceMethod.FairCoin,
        };
        return WithChance(chart, options);
    }

    /// <summary>
    /// Whether sides of this chart's median may be taken for fair coins: the baseline covers every point, at most a quarter of the points
    /// lie on the median, and no point has more than twice the eligible cases of another.
    /// </summary>
    /// <remarks>
    /// A median frozen on a part of the points is itself a matter of chance, which alone makes runs on the others longer.
    /// The two other bounds are judgement, not published.
    /// </remarks>
    public static bool FairCoinHolds(RunChart chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        var valued = chart.Points.Where(point => point.Value is not null).ToArray();
        return valued.Length == 0
            || (valued.All(point => Points.IsInside(point, chart.Baseline))
                && (valued.Length - chart.Useful) * 4 <= valued.Length
                && valued.Max(point => point.Count.Eligible) <= 2 * valued.Min(point => point.Count.Eligible));
    }

    /// <summary>Writes +1 for a value above the median and −1 for one below, values on it left out; says how many.</summary>
    internal static int Sides(ReadOnlySpan<double> values, double median, Span<int> sides)
    {
        var useful = 0;
        foreach (var value in values)
            if (Math.Abs(value - median) >= OnMedian)
                sides[useful++] = value > median ? 1 : -1;
        return useful;
    }

    internal static (int Longest, int Crossings) LongestAndCrossings(ReadOnlySpan<int> sides)
    {
        int longest = 0, crossings = 0, run = 0;
        for (var i = 0; i < sides.Length; i++)
        {
            var crosses = i > 0 && sides[i] != sides[i - 1];
            if (crosses)
                crossings++;
            run = crosses ? 1 : run + 1;
            longest = Math.Max(longest, run);
        }
        return (longest, crossings);
    }

    private static int[] Sides(ImmutableArray<RunChartPoint> points, double? median)
    {
        if (median is not { } centre)
            return [];
        double[] values = [.. points.Select(point => point.Value).OfType<double>()];
        var sides = new int[values.Length];
        return sides[..Sides(values, centre, sides)];
    }

    private static Untested Reason(double? median, bool few, int useful) =>
        median is not { } centre ? Untested.NoBaseline
        : few ? Untested.FewCases
        : centre < OnMedian || centre > 1 - OnMedian ? Untested.MedianAtEdge
        : useful < MinimumUseful ? Untested.FewPoints
        : Untested.No;

    private static RunChart WithChance(RunChart chart, RunChartOptions options)
    {
        if (chart.Useful == 0)
            return chart;
        if (options.Uniform is { } uniform && !FairCoinHolds(chart))
            return chart with
            {
                Chance = SimulatedCharts.Chance(chart, uniform, options.Replicates),
                ChanceMethod = ChanceMethod.Simulated
            };
        return chart with { Chance = LongestRunAndCrossings.Chance(chart.Useful, chart.RunLimit, chart.CrossingsLimit) };
    }
}
