using System.Collections.Immutable;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;
using SkiaSharp;

namespace Outcomes.Reporting.Drawings;

/// <summary>A chart that has been drawn: for the page as SVG, and for a slide as SVG and PNG.</summary>
/// <param name="Id">A measure's id, <see cref="Charts.StrataId"/> of it, or <see cref="Charts.LadderId"/>.</param>
/// <param name="Name">Its file name without extension.</param>
/// <param name="Title">Its text alternative.</param>
/// <param name="Svg">For a page that brings the font.</param>
/// <param name="Slide">The slide as SVG; empty when no picture was asked for.</param>
/// <param name="Png">The slide as a picture; empty when none was asked for.</param>
public sealed record Chart(string Id, string Name, string Title, string Svg, string Slide, ImmutableArray<byte> Png);

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
        _ = Make("x", "x", "x", "x", RunChartPlot.Width, RunChartPlot.Height(drawing), "x", sheet => RunChartPlot.Draw(sheet, drawing));
    }

    /// <summary>
    /// The run chart of each measure that has one, the headline measures by stratum, then the plan ladder. Drawn side by side on as many
    /// cores as there are: a drawing depends on its own numbers alone, so the bytes do not depend on the order.
    /// </summary>
    public static ImmutableArray<Chart> Draw(Figures model, bool pictures = true)
    {
        ArgumentNullException.ThrowIfNull(model);
        ReportFont.Register();
        var foot = pictures ? Foot(model) : null;
        var jobs = new List<Func<Chart>>();
        var names = new HashSet<string>(StringComparer.Ordinal);
        foreach (var measure in model.Measures)
        {
            if (RunChartDrawing.Of(measure, model.First) is not { } drawing)
                continue;
            var name = Unused(names, drawing.Id);
            jobs.Add(() => Make(drawing.Id, name, drawing.Title, drawing.Description, RunChartPlot.Width, RunChartPlot.Height(drawing),
                foot, sheet => RunChartPlot.Draw(sheet, drawing), sheet => RunChartPlot.DrawSlide(sheet, drawing)));
        }

        var year = Wording.Span(model.YearFrom, model.Month);
        foreach (var measure in model.Measures.Where(measure => measure.Headline))
            if (StrataPlot.Of(measure, model.Titles) is { IsEmpty: false } strata)
                jobs.AddRange(Strata(names, new StrataCharts(StrataId(measure.Measure.Id), measure.Measure.Id + "-by-stratum",
                    (part, _) => $"{measure.Measure.Id}-by-{string.Join("-", part.Select(block => block.Id))}",
                    new(measure.Measure.Title + " by stratum", measure.Measure.Per, measure.YearEstimate, strata), year), foot));
        foreach (var section in model.Sections)
            if (SectionPlot.Of(section, model.Titles) is { } drawing)
                jobs.AddRange(Strata(names, new StrataCharts(section.Id, section.Id, (_, at) => $"{section.Id}-{at + 1}", drawing,
                    Wording.Span(section.From, section.To)), foot));

        foreach (var control in model.ControlCharts?.Charts ?? [])
        {
            var name = Unused(names, "control_" + control.Id);
            jobs.Add(() => Make(ControlPlot.Id(control), name, ControlPlot.Title(control), ControlPlot.Describe(control), ControlPlot.Width,
                ControlPlot.Height, foot, sheet => ControlPlot.Draw(sheet, control)));
        }

        foreach (var events in model.RareEvents.Where(RareEventPlot.Draws))
        {
            var name = Unused(names, RareEventPlot.Id(events));
            jobs.Add(() => Make(RareEventPlot.Id(events), name, RareEventPlot.Title(events), RareEventPlot.Describe(events),
                RareEventPlot.Width, RareEventPlot.Height(events), foot, sheet => RareEventPlot.Draw(sheet, events)));
        }

        foreach (var sites in model.Sites)
        {
            var name = Unused(names, FunnelPlot.Id(sites));
            jobs.Add(() => Make(FunnelPlot.Id(sites), name, FunnelPlot.Title(sites), FunnelPlot.Describe(sites), FunnelPlot.Width,
                FunnelPlot.Height, foot, sheet => FunnelPlot.Draw(sheet, sites)));
        }

        if (model.Ladder is { } ladder)
        {
            var name = Unused(names, LadderId);
            jobs.Add(() => Make(LadderId, name, "Plan ladder", LadderPlot.Describe(ladder), LadderPlot.Width, LadderPlot.Height(ladder),
                foot, sheet => LadderPlot.Draw(sheet, ladder, year)));
        }

        var charts = new Chart[jobs.Count];
        Parallel.For(0, jobs.Count, i => charts[i] = jobs[i]());
        return ImmutableArray.Create(charts);
    }

    /// <summary>On a page the strata stand under each other; a slide holds a few of them.</summary>
    private static IEnumerable<Func<Chart>> Strata(HashSet<string> names, StrataCharts charts, string? foot)
    {
        var (drawing, period) = (charts.Drawing, charts.Period);
        var page = Unused(names, charts.PageName);
        yield return () => Make(charts.Id, page, drawing.Title, StrataPlot.Describe(drawing, period), StrataPlot.Width,
            StrataPlot.Height(drawing.Blocks), foot: null, sheet => StrataPlot.Draw(sheet, drawing, period));
        if (foot is null)
            yield break;
        foreach (var (at, part) in StrataPlot.Parts(drawing.Blocks).Index())
        {
            var (some, name) = (drawing with { Blocks = part }, Unused(names, charts.Slide(part, at)));
            yield return () => Make($"{charts.Id} {part[0].Id}", name, some.Title, StrataPlot.Describe(some, period), StrataPlot.Width,
                StrataPlot.Height(part), foot, sheet => StrataPlot.Draw(sheet, some, period));
        }
    }

    /// <summary>A drawing by strata with its names.</summary>
    /// <param name="Id">Its id on the page.</param>
    /// <param name="PageName">Its name.</param>
    /// <param name="Slide">The name of a slide, from what it shows and its place among them.</param>
    /// <param name="Drawing">What is drawn.</param>
    /// <param name="Period">The months.</param>
    private sealed record StrataCharts(
        string Id, string PageName, Func<ImmutableArray<StrataBlock>, int, string> Slide, SectionDrawing Drawing, string Period);

    /// <summary>The small run charts of the headline measures, for the first page alone: by measure, those that have one.</summary>
    public static ImmutableDictionary<string, Chart> Small(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        ReportFont.Register();
        var charts = ImmutableDictionary.CreateBuilder<string, Chart>(StringComparer.Ordinal);
        var names = new HashSet<string>(StringComparer.Ordinal);
        foreach (var measure in model.Measures.Where(measure => measure.Headline))
        {
            if (RunChartDrawing.Of(measure, model.First) is { } drawing)
            {
                charts[drawing.Id] = Make(drawing.Id, "small-" + Unused(names, drawing.Id), drawing.Title, drawing.Description,
                    SmallRunChart.Width, SmallRunChart.Height, foot: null, sheet => SmallRunChart.Draw(sheet, drawing));
            }
        }

        return charts.ToImmutable();
    }

    /// <summary>
    /// Writes the slides as <c>NAME.svg</c> and <c>NAME.png</c> into a folder that exists. An SVG by itself brings the font along.
    /// </summary>
    public static void Save(IEnumerable<Chart> charts, string folder)
    {
        ArgumentNullException.ThrowIfNull(charts);
        var style = $"<style>{FontFaces.Css.Value}</style>";
        foreach (var chart in charts.Where(chart => chart.Slide.Length > 0))
        {
            var svg = chart.Slide.Insert(chart.Slide.IndexOf("<title", StringComparison.Ordinal), style);
            WholeFile.Write(Path.Combine(folder, chart.Name + ".svg"), Encoding.UTF8.GetBytes(svg));
            WholeFile.Write(Path.Combine(folder, chart.Name + ".png"), chart.Png.AsSpan());
        }
    }

    /// <summary>A picture on a slide has left its report: what it is for, for whom, and as known when, go with it.</summary>
    private static string Foot(Figures model) =>
        "For audit and improvement only, never about a person.\nAs known "
            + $"on {Wording.Date(model.AsOf)}. {(model.Invented ? "Invented data." : $"Audience: {Wording.Audience(model.Audience)}.")}";

    // The foot goes with what leaves the report; without one no slide is made.
    private static Chart Make(string id, string name, string title, string description, int width, int height, string? foot,
        Action<Sheet> draw, Action<Sheet>? drawSlide = null)
    {
        var svg = Svg(draw, width, height, "chart-" + name, title, description);
        if (foot is null)
            return new(id, name, title, svg, "", []);
        var slide = drawSlide is null ? Slide.Of(draw, width, height, foot) : Slide.Of(drawSlide, foot);
        return new(id, name, title, svg, Svg(slide, Slide.FrameWidth, Slide.FrameHeight, "chart-" + name, title, description), Png(slide));
    }

    private static string Svg(Action<Sheet> draw, int width, int height, string slug, string title, string description)
    {
        using var stream = new MemoryStream();
        using (var canvas = SKSvgCanvas.Create(new SKRect(0, 0, width, height), stream))
        using (var sheet = new Sheet(canvas))
            draw(sheet);
        return Drawings.Svg.Finish(Encoding.UTF8.GetString(stream.GetBuffer(), 0, (int)stream.Length), slug, title,
            description, width, height);
    }

    private static ImmutableArray<byte> Png(Action<Sheet> draw)
    {
        var info = new SKImageInfo((int)(Slide.FrameWidth * Slide.Scale), (int)(Slide.FrameHeight * Slide.Scale),
            SKColorType.Rgba8888, SKAlphaType.Opaque);
        using var surface = SKSurface.Create(info);
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.Scale(Slide.Scale);
        using (var sheet = new Sheet(surface.Canvas))
            draw(sheet);
        using var pixels = surface.PeekPixels();
        // Lines on white: the "up" filter at level 3 takes a quarter of the default's time for the same size (measured).
        using var data = pixels.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.Up, 3))
            ?? throw new InvalidOperationException("The picture could not be encoded.");
        return [.. data.AsSpan()];
    }

    private static string Unused(HashSet<string> names, string id)
    {
        var slug = Encode.Slug(id);
        var name = slug;
        for (var i = 2; !names.Add(name); i++)
            name = $"{slug}-{i}";
        return name;
    }
}
