using System.Collections.Immutable;
using CsCheck;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ControlChartLawTests
{
    private static readonly ChartBaseline Whole = new(0, int.MaxValue);

    private static readonly Gen<Count> AnyCount =
        Gen.Select(Gen.Long[0, 60], Gen.Double[0, 1], (eligible, share) => new Count((long)(share * (eligible + 0.999)), eligible, 0));

    private static readonly Gen<ImmutableArray<Count>> AnyCounts = AnyCount.Array[1, 30].Select(counts => ImmutableArray.Create(counts));

    private static readonly Gen<LimitMethod> AnyMethod = Gen.Int[0, 2].Select(index => (LimitMethod)index);

    [Fact]
    public void Exact_limits_leave_at_most_the_tail_beyond_them_and_one_count_more_would_exceed_it() =>
        Gen.Select(Gen.Int[1, 80], Gen.Double[0.01, 0.99], Gen.Double[0.5, 3.5]).Sample((n, rate, multiple) =>
        {
            // Binomial probabilities by adding up terms from 0, apart from the code under test.
            var met = (long)Math.Clamp(Math.Round(rate * 1000), 1, 999);
            var chart = AttributeCharts.Proportions([new(met, 1000, 0), new(0, n, 0)], new(0, 1), multiple: multiple);
            var p = met / 1000.0;
            var tail = MathNet.Numerics.Distributions.Normal.CDF(0, 1, -multiple);
            int least = (int)Math.Round(chart.Points[1].Lower!.Value * n), most = (int)Math.Round(chart.Points[1].Upper!.Value * n);
            Assert.True(1 - Binomial.AtLeast(least, n, p) <= tail * (1 + 1e-9) + 1e-12);
            Assert.True(1 - Binomial.AtLeast(least + 1, n, p) > tail * (1 - 1e-9) - 1e-12);
            Assert.True(most == n || Binomial.AtLeast(most + 1, n, p) <= tail * (1 + 1e-9));
            Assert.True(Binomial.AtLeast(most, n, p) > tail * (1 - 1e-9));
        });

    [Fact]
    public void Counting_the_opposite_mirrors_a_p_chart() => Gen.Select(AnyCounts, AnyMethod).Sample((counts, method) =>
    {
        var chart = AttributeCharts.Proportions(counts, Whole, method);
        var mirror =
            AttributeCharts.Proportions([.. counts.Select(count => count with { Met = count.Eligible - count.Met })], Whole, method);
        for (var i = 0; i < counts.Length; i++)
        {
            Assert.Equal(chart.Points[i].Lower is null, mirror.Points[i].Upper is null);
            if (chart.Points[i].Lower is not { } lower)
                continue;
            // Where a limit lies on the boundary of a count, 1 − p rounds: one count either way.
            var step = method == LimitMethod.Exact ? (1.0 / counts[i].Eligible) + 1e-9 : 1e-9;
            Assert.Equal(lower, 1 - mirror.Points[i].Upper!.Value, step);
            Assert.Equal(chart.Points[i].Upper!.Value, 1 - mirror.Points[i].Lower!.Value, step);
        }
    });

    [Fact]
    public void Limits_lie_about_the_centre_and_gaps_have_none() => Gen.Select(AnyCounts, AnyMethod).Sample((counts, method) =>
    {
        var chart = AttributeCharts.Proportions(counts, Whole, method);
        Assert.Equal(counts.Length, chart.Points.Length);
        foreach (var (point, count) in chart.Points.Zip(counts))
        {
            Assert.Equal(count.Eligible == 0, point.Value is null);
            Assert.True(point.Value is not null || (point.Lower is null && !point.Beyond));
            if (point.Lower is { } lower)
                Assert.True(lower >= 0 && lower <= chart.Centre + 1.0 / count.Eligible
                    && chart.Centre - 1.0 / count.Eligible <= point.Upper && point.Upper <= 1);
        }
    });

    [Fact]
    public void Limits_widen_as_cases_fall() => Gen.Select(Gen.Long[4, 5_000], Gen.Long[1, 999]).Sample((n, met) =>
    {
        foreach (var method in new[] { LimitMethod.Exact, LimitMethod.Normal })
        {
            var chart = AttributeCharts.Proportions([new(met, 1000, 0), new(0, n, 0), new(0, 4 * n, 0)], new(0, 1), method);
            var (few, many) = (chart.Points[1], chart.Points[2]);
            // Exact limits are steps of 1/n, so up to one step narrower.
            var step = method == LimitMethod.Exact ? 1.0 / n : 0;
            Assert.True(many.Upper - many.Lower <= few.Upper - few.Lower + step);
        }
    });

    [Fact]
    public void Points_outside_the_baseline_change_no_limit() =>
        Gen.Select(AnyCounts, AnyCounts, AnyMethod).Sample((first, later, method) =>
        {
            ChartBaseline baseline = new(0, first.Length);
            var alone = AttributeCharts.Proportions(first, baseline, method);
            var longer = AttributeCharts.Proportions([.. first, .. later], baseline, method);
            Assert.Equal(alone.Centre, longer.Centre);
            Assert.Equal(alone.Points, longer.Points.Take(first.Length));
        });

    [Fact]
    public void A_gap_between_neighbours_changes_nothing() => Gen.Select(AnyCounts, AnyMethod).Sample((counts, method) =>
    {
        var chart = AttributeCharts.Proportions(counts, Whole, method);
        var gapped = AttributeCharts.Proportions([.. counts.SelectMany(count => new[] { count, default })], Whole, method);
        Assert.Equal((chart.Centre, chart.Variation), (gapped.Centre, gapped.Variation));
        Assert.Equal(chart.Points.Select(point => (point.Value, point.Lower, point.Upper)),
            gapped.Points.Where((_, i) => i % 2 == 0).Select(point => (point.Value, point.Lower, point.Upper)));
    });

    [Fact]
    public void U_charts_scale_with_the_unit_of_exposure() =>
        Gen.Select(Gen.Select(Gen.Long[0, 30], Gen.Double[0.1, 20]).Array[1, 20], Gen.Double[0.01, 100], AnyMethod)
            .Sample((points, unit, method) =>
            {
                ImmutableArray<long> events = [.. points.Select(point => point.Item1)];
                var chart = AttributeCharts.Rates(events, [.. points.Select(point => point.Item2)], Whole, method);
                var scaled = AttributeCharts.Rates(events, [.. points.Select(point => point.Item2 * unit)], Whole, method);
                for (var i = 0; i < points.Length; i++)
                    if (chart.Points[i].Upper is { } upper)
                        Assert.Equal(upper, scaled.Points[i].Upper!.Value * unit,
                            (1e-9 * upper) + (method == LimitMethod.Exact ? 1.0 / points[i].Item2 : 0));
            });

    [Fact]
    public void Individuals_move_and_scale_with_their_values() =>
        // Values that differ by less than rounding have no limits once they are moved.
        Gen.Select(Gen.Double[-100, 100].Array[2, 30], Gen.Double[0.1, 10], Gen.Double[-50, 50])
            .Where((values, _, _) => values.Max() - values.Min() > 1e-6).Sample((values, scale, shift) =>
        {
            var one = IndividualsCharts.Analyse([.. values.Select(value => (double?)value)], Whole).Values;
            var other = IndividualsCharts.Analyse([.. values.Select(value => (double?)((scale * value) + shift))], Whole).Values;
            Assert.Equal((scale * one.Points[0].Upper!.Value) + shift, other.Points[0].Upper!.Value, 1e-8);
            Assert.Equal((scale * one.Points[0].Lower!.Value) + shift, other.Points[0].Lower!.Value, 1e-8);
        });

    [Fact]
    public void Exact_geometric_limits_leave_no_more_than_the_tail_beyond_them() =>
        Gen.Select(Gen.Long[1, 400].Array[2, 25], Gen.Double[0.5, 3.5]).Where((gaps, _) => gaps.Any(gap => gap > 1))
            .Sample((gaps, multiple) =>
            {
                var chart = RareEventChart.Cases([.. gaps], null, Whole, multiple: multiple);
                var tail = MathNet.Numerics.Distributions.Normal.CDF(0, 1, -multiple);
                var stay = 1 - (1 / gaps.Average());
                var (lower, upper) = (chart.Points[0].Lower!.Value, chart.Points[0].Upper!.Value);
                Assert.True(1 - Math.Pow(stay, lower - 1) <= tail * (1 + 1e-9));
                Assert.True(1 - Math.Pow(stay, lower) >= tail * (1 - 1e-9));
                Assert.True(Math.Pow(stay, upper) <= tail * (1 + 1e-9));
                Assert.True(upper == 1 || Math.Pow(stay, upper - 1) >= tail * (1 - 1e-9));
                // The centre is a median: half of the gaps at or below it, half at or above.
                Assert.True(1 - Math.Pow(stay, chart.Centre!.Value) >= 0.5 - 1e-12
                    && Math.Pow(stay, chart.Centre.Value - 1) >= 0.5 - 1e-12);
            });

    [Fact]
    public void Phases_keep_their_own_limits_and_the_positions_of_the_whole() => Gen.Select(AnyCounts, AnyCounts).Sample((first, later) =>
    {
        static ControlChart Make(ImmutableArray<Count> counts, ChartBaseline baseline) => AttributeCharts.Proportions(counts, baseline);
        var phases = ChartPhases.Make([.. first, .. later], [new(0, 12, "start"), new(first.Length, 12, "a new trolley")], Make);
        Assert.Equal(AttributeCharts.Proportions(first, new(0, 12)).Points, phases[0].Chart.Points);
        Assert.Equal(AttributeCharts.Proportions(later, new(0, 12)).Points.Select(point => point.Upper),
            phases[1].Chart.Points.Select(point => point.Upper));
        Assert.Equal(Enumerable.Range(0, first.Length + later.Length), phases.SelectMany(phase => phase.Chart.Points)
            .Select(point => point.Position));
        Assert.Throws<ArgumentOutOfRangeException>("phases", () => ChartPhases.Make(first, [new(0, 12, " ")], Make));
        Assert.Throws<ArgumentOutOfRangeException>("phases", () => ChartPhases.Make(first, [new(first.Length, 12, "too late")], Make));
        Assert.Throws<ArgumentOutOfRangeException>("phases", () => ChartPhases.Make(first, [], Make));
    });

    [Fact]
    public void An_open_gap_is_never_short_and_may_be_long()
    {
        ImmutableArray<double> times = [30, 45, 20, 60, 38, 25, 41, 33, 52, 28];
        ControlPoint Open(double since) => RareEventChart.Times(times, since, Whole).Points[^1];
        Assert.False(Open(0).Beyond);
        Assert.True(Open(0).Open);
        Assert.True(Open(1_000).Beyond);
        Assert.True(RareEventChart.Times([.. times, 0.01], null, new(0, 10)).Points[^1].Beyond);
    }

    [Fact]
    public void A_cumulative_ratio_is_that_of_the_sums() =>
        Gen.Select(Gen.Long[0, 20], Gen.Double[0.01, 20]).Array[1, 30].Sample(points =>
        {
            var last = CumulativePoisson.Accumulate([.. points.Select(point => point.Item1)], [.. points.Select(point => point.Item2)])[^1];
            var (observed, expected) = (points.Sum(point => point.Item1), points.Sum(point => point.Item2));
            Assert.Equal(observed, last.Observed);
            Assert.Equal(observed / expected, last.Ratio!.Value, 1e-9 * (1 + (observed / expected)));
            Assert.True(last.Lower <= last.Ratio && last.Ratio <= last.Upper);
        });

    [Fact]
    public void A_chart_that_should_not_be_used_says_why()
    {
        Assert.Equal([ChartDoubt.NoBaseline], AttributeCharts.Proportions([default, new(1, 2, 0)], new(0, 1)).Doubts);
        Assert.Equal([ChartDoubt.BaselineAtEdge], AttributeCharts.Proportions([new(5, 5, 0), new(1, 2, 0)], new(0, 1)).Doubts);
        Assert.Equal([ChartDoubt.BaselineAtEdge], AttributeCharts.Rates([0, 0, 3], [1, 1, 1], new(0, 2)).Doubts);
        ImmutableArray<Count> rare = [.. Enumerable.Range(0, 24).Select(i => new Count(i % 3 == 0 ? 1 : 0, 10, 0))];
        Assert.Equal([ChartDoubt.NoFallSeen], AttributeCharts.Proportions(rare, Whole).Doubts);
        Assert.Equal([ChartDoubt.FewExpected, ChartDoubt.NoFallSeen], AttributeCharts.Proportions(rare, Whole, LimitMethod.Normal).Doubts);
        ImmutableArray<Count> wild = [.. Enumerable.Range(0, 24).Select(i => new Count(i % 2 == 0 ? 30 : 70, 100, 0))];
        Assert.Equal([ChartDoubt.Overdispersed], AttributeCharts.Proportions(wild, Whole).Doubts);
        Assert.Equal([ChartDoubt.NoFallSeen, ChartDoubt.NoRiseSeen], AttributeCharts.Proportions(wild, Whole, LimitMethod.Laney).Doubts);
        ImmutableArray<Count> calm = [.. wild.Select((_, i) => new Count(i % 2 == 0 ? 48 : 52, 100, 0))];
        Assert.Empty(AttributeCharts.Proportions(calm, Whole, LimitMethod.Laney).Doubts);
        Assert.Empty(AttributeCharts.Proportions(calm, Whole).Doubts);
        Assert.Equal([ChartDoubt.ShortBaseline], AttributeCharts.Proportions(wild, new(0, 1), LimitMethod.Normal).Doubts);
        Assert.Equal([ChartDoubt.ShortBaseline, ChartDoubt.NotRare, ChartDoubt.NoFallSeen],
            RareEventChart.Cases([2, 3, 4], null, Whole).Doubts);
        Assert.Equal([ChartDoubt.BaselineAtEdge, ChartDoubt.NotRare], RareEventChart.Cases([1, 1, 1], null, Whole).Doubts);
        Assert.Equal([ChartDoubt.ShortBaseline, ChartDoubt.ZeroTimes], RareEventChart.Times([0, 3, 4], null, Whole).Doubts);
        Assert.Equal([ChartDoubt.NoBaseline], IndividualsCharts.Analyse([1, null, null], new(0, 2)).Values.Doubts);
    }

    [Fact]
    public void An_input_out_of_range_is_named()
    {
        Assert.Throws<ArgumentOutOfRangeException>("baseline", () => AttributeCharts.Proportions([new(1, 2, 0)], new(-1, 3)));
        Assert.Throws<ArgumentOutOfRangeException>("baseline", () => AttributeCharts.Proportions([new(1, 2, 0)], new(0, 0)));
        Assert.Throws<ArgumentOutOfRangeException>("counts", () => AttributeCharts.Proportions([new(3, 2, 0)], Whole));
        Assert.Throws<ArgumentOutOfRangeException>("multiple", () => AttributeCharts.Proportions([new(1, 2, 0)], Whole, multiple: 0));
        Assert.Throws<ArgumentOutOfRangeException>("exposures", () => AttributeCharts.Rates([1], [double.NaN], Whole));
        Assert.Throws<ArgumentOutOfRangeException>("exposures", () => AttributeCharts.Rates([1], [1, 2], Whole));
        Assert.Throws<ArgumentOutOfRangeException>("events", () => AttributeCharts.Rates([1], [0], Whole));
        Assert.Throws<ArgumentOutOfRangeException>("data", () => AttributeCharts.Rates([1, 1], [1e-12, 1], new(0, 1)));
        Assert.Throws<ArgumentOutOfRangeException>("values", () => IndividualsCharts.Analyse([double.NaN], Whole));
        Assert.Throws<ArgumentOutOfRangeException>("cases", () => RareEventChart.Cases([0], null, Whole));
        Assert.Throws<ArgumentOutOfRangeException>("method", () => RareEventChart.Cases([1], null, Whole, LimitMethod.Laney));
        Assert.Throws<ArgumentOutOfRangeException>("since", () => RareEventChart.Cases([1], -1, Whole));
        Assert.Throws<ArgumentOutOfRangeException>("times", () => RareEventChart.Times([-1], null, Whole));
        Assert.Throws<ArgumentOutOfRangeException>("since", () => RareEventChart.TransformedTimes([1], double.NaN, Whole));
        Assert.Throws<ArgumentOutOfRangeException>("expected", () => CumulativePoisson.Accumulate([1], [-1]));
        Assert.Throws<ArgumentOutOfRangeException>("observed", () => CumulativePoisson.Accumulate([-1], [1]));
    }
}
