using System.Collections.Immutable;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;

namespace Outcomes.Reporting.Drawings;

/// <summary>Draws every chart of a report.</summary>
public static class Charts
{
    public const string LadderId = "plan_ladder";

    /// <summary>The id of a measure's chart by stratum.</summary>
    public static string StrataId(string measure) => measure + " by stratum";

    /// <summary>
    /// Loads the font and the drawing library and draws once for nothing. Half the time of a first chart is this: a run that calls it
    /// on another thread while it reads its records does not wait for it later.
    /// </summary>
    public static void Prepare()
    {
        ReportFont.Register();
        var drawing = new RunChartDrawing
        {
            Id = "x",
            Title = "x",
            Subtitle = "x",
            Description = "x",
            Per = 100,
            Top = 1,
            Months = 2,
            Phases = [new(0, 2, 0.5, (0, 1))],
            Points = [new(0.5, "x", 9, 0.4, new(0.1, 0.8)), new(1.5, "x", 3, 0.6, new(0.1, 0.8))],
            Signal = new(0.5, 1.5, 1.5, "x"),
        };
        _ = DrawChart.Draw(new("x", "x", "x", "x"), (RunChartPlot.Width, RunChartPlot.Height(drawing)), "x",
            sheet => RunChartPlot.Draw(sheet, drawing));
    }

    /// <summary>
    /// The run chart of each measure that has one, the headline measures by stratum, then the plan ladder. Drawn side by side on as many
    /// cores as there are: a drawing depends on its own numbers alone, so the bytes do not depend on the order.
    /// </summary>
    /// <param name="model">The figures.</param>
    /// <param name="slides">Which of them leave as slides too.</param>
    public static ImmutableArray<Chart> Draw(Figures model, Slides slides = Slides.All)
    {
        ArgumentNullException.ThrowIfNull(model);
        ReportFont.Register();
        var jobs = new ChartJobs(model, slides, Foot(model)).All().ToArray();
        var charts = new Chart[jobs.Length];
        Parallel.For(0, jobs.Length, i => charts[i] = jobs[i]());
        return ImmutableArray.Create(charts);
    }

    /// <summary>The small run charts of the headline measures, for the first page alone: by measure, those that have one.</summary>
    public static ImmutableDictionary<string, Chart> Small(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        ReportFont.Register();
        var charts = ImmutableDictionary.CreateBuilder<string, Chart>(StringComparer.Ordinal);
        var names = new ChartNames();
        foreach (var measure in model.Measures.Where(measure => measure.Headline))
        {
            if (RunChartDrawing.Of(measure, model.First, model.Provisional.FirstOrDefault()?.Month) is { } drawing)
            {
                charts[drawing.Id] = DrawChart.Draw(
                    new(drawing.Id, "small-" + names.Unused(drawing.Id), drawing.Title, drawing.Description),
                    (SmallRunChart.Width, SmallRunChart.Height), foot: null, sheet => SmallRunChart.Draw(sheet, drawing));
            }
        }

        return charts.ToImmutable();
    }

    /// <summary>Writes a slide as SVG and as PNG. An SVG by itself brings the font along.</summary>
    public static void Save(Chart chart, string svg, string png)
    {
        ArgumentNullException.ThrowIfNull(chart);
        WholeFile.Write(svg, Encoding.UTF8.GetBytes(WithFont(chart.Slide)));
        WholeFile.Write(png, chart.Png.AsSpan());
    }

    /// <summary>A slide that brings the font along.</summary>
    internal static string WithFont(string slide) =>
        slide.Insert(slide.IndexOf("<title", StringComparison.Ordinal), $"<style>{FontFaces.Css.Value}</style>");

    /// <summary>A picture on a slide has left its report: what it is for, for whom, and as known when, go with it.</summary>
    private static string Foot(Figures model) =>
        "For audit and improvement only, never about a person.\nAs known "
            + $"on {Wording.Date(model.AsOf)}. {(model.Invented ? "Invented data." : $"Audience: {Wording.Audience(model.Audience)}.")}";
}
