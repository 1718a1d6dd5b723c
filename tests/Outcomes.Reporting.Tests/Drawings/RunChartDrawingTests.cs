using Outcomes.Reporting.Drawings;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Drawings;

public class RunChartDrawingTests
{
    [Theory]
    [InlineData(0.004, 0.009, 0.01)]
    [InlineData(0.03, 0.17, 0.2)]
    [InlineData(0.2, 0.5, 0.5)]
    [InlineData(0.2, 0.51, 1)]
    [InlineData(0.9, 1, 1)]
    public void The_axis_ends_at_the_least_round_end_that_holds_everything(double value, double upper, double top) =>
        Assert.Equal(top, RunChartDrawing.AxisTop([new(0, "", 20, value, new Bounds(0, upper)), new(1, "", 0, null, null)]));

    [Fact]
    public void A_hollow_points_long_interval_does_not_stretch_the_axis_but_its_value_does()
    {
        DrawnPoint usual = new(0, "", 20, 0.01, new Bounds(0, 0.1));
        Assert.Equal(0.1, RunChartDrawing.AxisTop([usual, new(1, "", 3, 0, new Bounds(0, 0.56))]));
        Assert.Equal(0.5, RunChartDrawing.AxisTop([usual, new(1, "", 3, 1 / 3.0, new Bounds(0, 0.79))]));
    }

    [Fact]
    public void Without_any_value_the_axis_is_whole()
    {
        Assert.Equal(1, RunChartDrawing.AxisTop([]));
        Assert.Equal(1, RunChartDrawing.AxisTop([new(0, "", 0, null, null)]));
    }

    [Fact]
    public void Numbers_come_before_pixels()
    {
        var model = Samples.Model();
        var drawing = RunChartDrawing.Of(model.Measures[0], model.First)!;
        Assert.Equal(36, drawing.Points.Length);
        Assert.Null(drawing.Points[9].Value);
        Assert.Null(drawing.Points[9].Interval);
        Assert.True(drawing.Points[4].Hollow);
        Assert.Equal("Apr\u00a023", drawing.Points[0].Label);
        Assert.NotNull(drawing.Signal);
        // Fewer than one event a quarter are no chart; with the counts of another measure beside its points it is drawn.
        Assert.True(model.Measures[5].IsTooRareToChart);
        Assert.Null(RunChartDrawing.Of(model.Measures[5], model.First));
        var rare = RunChartDrawing.Of(model.Measures[5] with { Series = model.Measures[0].Series }, model.First)!;
        Assert.Equal("2023\u00a0Q2", rare.Points[0].Label);
        Assert.Contains("axis ends at 200\u00a0per\u00a01,000", rare.Subtitle, StringComparison.Ordinal);
    }

    [Fact]
    public void A_measure_without_a_run_chart_has_no_drawing() =>
        Assert.Null(RunChartDrawing.Of(Samples.Model().Measures[^1], Samples.First));
}
