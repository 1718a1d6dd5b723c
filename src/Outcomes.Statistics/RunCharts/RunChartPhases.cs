using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>Run charts of a series that declared changes cut into phases.</summary>
public static class RunChartPhases
{
    /// <summary>
    /// One chart a phase, in order of time; together their points are those of the series. Without a start it is the one chart.
    /// </summary>
    /// <param name="series">The whole series.</param>
    /// <param name="starts">0-based months where a new phase starts, each after the one before; those outside the series are left
    /// out.</param>
    /// <param name="options">
    /// How each is analysed: the first by its declared baseline, each later one by as many months from its own start, frozen likewise.
    /// </param>
    /// <remarks>
    /// Months or quarters are decided once, over the whole series, so that a point means the same everywhere on one drawing. Positions stay
    /// those of the series. A phase is tested by itself and by its own points alone: a declared change starts a new chart, it does
    /// not explain the old one.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or an option is out of range, or the starts are not in order.</exception>
    public static ImmutableArray<RunChart> Analyse(Series series, IReadOnlyList<int> starts, RunChartOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(series);
        ArgumentNullException.ThrowIfNull(starts);
        options ??= new();
        for (var i = 1; i < starts.Count; i++)
            ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(starts[i], starts[i - 1], nameof(starts));
        int[] cuts = [0, .. starts.Where(start => start > 0 && start < series.Counts.Length), series.Counts.Length];
        if (cuts.Length == 2)
            return [RunCharts.Analyse(series, options)];
        var span = RunCharts.Analyse(series, options with { Uniform = null }).Span;
        var charts = ImmutableArray.CreateBuilder<RunChart>();
        for (var phase = 0; phase + 1 < cuts.Length; phase++)
            charts.Add(Phase(series, cuts[phase], cuts[phase + 1], span, options));
        return charts.ToImmutable();
    }

    private static RunChart Phase(Series series, int from, int to, PointSpan span, RunChartOptions options)
    {
        var month = series.Month - 1 + from;
        var part = new Series(series.Year + (month / 12), (month % 12) + 1, series.Counts[from..to]);
        var chart = RunCharts.Analyse(part, options with { BaselineFrom = from == 0 ? options.BaselineFrom : 0, Span = span });
        return chart with
        {
            Points = [.. chart.Points.Select(point => point with { Start = point.Start + from })],
            Baseline = (chart.Baseline.From + from, chart.Baseline.Months),
            // Drawn by quarter because months have too few cases: not tested, as the whole series would not be.
            Untested = options.Span is null && span == PointSpan.Quarter && chart.Untested != Untested.NoBaseline
                ? Untested.FewCases
                : chart.Untested,
        };
    }
}
