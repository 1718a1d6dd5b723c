using Outcomes.Statistics;

namespace Outcomes.Tests.Statistics;

/// <summary>
/// Phases of a run chart: worked by hand, and laws. Where a new phase may start is common practice (Perla, Provost, Murray 2011): only by
/// declaration.
/// </summary>
public sealed class RunChartPhasesTests
{
    private static Series Of(params int[] met) => new(2024, 4, [.. met.Select(each => new Count(each, 20, 0))]);

    [Fact]
    public void Without_a_start_it_is_the_one_chart_of_the_series()
    {
        var series = Of([.. Enumerable.Range(0, 24).Select(i => 10 + (i % 5))]);
        var phase = Assert.Single(RunChartPhases.Analyse(series, []));
        Assert.Equivalent(RunCharts.Analyse(series), phase);
        Assert.Single(RunChartPhases.Analyse(series, [-3, 0, 24, 90]));
    }

    // Twelve months about 10 of 20, twelve about 16 of 20; by hand: medians 10/20 and 16/20.
    [Fact]
    public void Each_phase_has_the_median_of_its_own_first_months()
    {
        var series = Of(9, 10, 11, 9, 10, 11, 9, 10, 11, 9, 10, 11, 15, 16, 17, 15, 16, 17, 15, 16, 17, 15, 16, 17);
        var phases = RunChartPhases.Analyse(series, [12]);
        Assert.Equal([0.5, 0.8], phases.Select(phase => phase.Median!.Value));
        Assert.Equal([(0, 12), (12, 12)], phases.Select(phase => phase.Baseline));
        Assert.Equal(12, phases[1].Points[0].Start);
        Assert.All(phases, phase => Assert.False(phase.Signals));

        // Undivided it is one long run above the frozen median: the last point before and the twelve after, where more than
        // log2(20) + 3, rounded to 7, signals.
        var whole = RunCharts.Analyse(series);
        Assert.Equal((13, 7), (whole.LongestRun, whole.RunLimit));
        Assert.True(whole.Signals);
    }

    [Fact]
    public void The_points_of_the_phases_are_those_of_the_series_in_order()
    {
        var random = new SplitMix64Random(5);
        for (var round = 0; round < 200; round++)
        {
            var series = Of([.. Enumerable.Range(0, 3 + random.Below(60)).Select(_ => random.Below(21))]);
            var cuts = Enumerable.Range(1, series.Counts.Length).Where(_ => random.Below(8) == 0).ToArray();
            var points = RunChartPhases.Analyse(series, cuts, new RunChartOptions { Span = PointSpan.Month })
                .SelectMany(phase => phase.Points).ToArray();
            Assert.Equal(Enumerable.Range(0, series.Counts.Length), points.Select(point => point.Start));
            Assert.Equal(series.Counts, points.Select(point => point.Count));
        }
    }

    [Fact]
    public void A_phase_that_starts_inside_a_calendar_quarter_has_a_shorter_first_point()
    {
        // April 2024 to March 2026, four cases a month: by quarter. The change comes with February 2025, inside the first quarter.
        var series = new Series(2024, 4, [.. Enumerable.Repeat(new Count(2, 4, 0), 24)]);
        var phases = RunChartPhases.Analyse(series, [10]);
        Assert.Equal([(0, 3), (3, 3), (6, 3), (9, 1)], phases[0].Points.Select(point => (point.Start, point.Months)));
        Assert.Equal((10, 2), (phases[1].Points[0].Start, phases[1].Points[0].Months));
        Assert.All(phases, phase => Assert.Equal((PointSpan.Quarter, Untested.FewCases), (phase.Span, phase.Untested)));
    }

    [Fact]
    public void Starts_out_of_order_are_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => RunChartPhases.Analyse(Of(1, 2, 3, 4), [2, 1]));

    private sealed class SplitMix64Random(ulong seed)
    {
        private readonly Func<double> _uniform = SplitMix64.Uniform(seed);

        public int Below(int end) => (int)(_uniform() * end);
    }
}
