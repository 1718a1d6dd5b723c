using System.Collections.Immutable;
using Outcomes.Analysis;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// A job for each chart of a report. Names are given while the jobs are listed, in the report's order; the drawing is then free to be done
/// in any.
/// </summary>
/// <param name="model">The report's figures.</param>
/// <param name="slides">Which charts leave as slides too.</param>
/// <param name="words">What goes with a chart that leaves the report.</param>
internal sealed class ChartJobs(Figures model, Slides slides, string words)
{
    // Null where a chart makes no slide.
    private readonly string? _foot = slides == Slides.All ? words : null;

    private readonly ChartNames _names = new();

    public IEnumerable<Func<Chart>> All() =>
    [
        .. RunCharts(), .. HeadlineStrata(), .. Sections(), .. ControlCharts(), .. RareEvents(), .. Funnels(), .. Ladder(),
    ];

    private string Year => Wording.Span(model.YearFrom, model.Month);

    private IEnumerable<Func<Chart>> RunCharts()
    {
        foreach (var measure in model.Measures)
        {
            if (RunChartDrawing.Of(measure, model.First, model.Provisional.FirstOrDefault()?.Month) is not { } drawing)
                continue;
            var name = _names.Unused(drawing.Id);
            var slide = slides == Slides.All || (slides == Slides.Headline && measure.Headline) ? words : null;
            yield return () => DrawChart.Draw(new(drawing.Id, name, drawing.Title, drawing.Description),
                (RunChartPlot.Width, RunChartPlot.Height(drawing)), slide,
                sheet => RunChartPlot.Draw(sheet, drawing), sheet => RunChartPlot.DrawSlide(sheet, drawing));
        }
    }

    private IEnumerable<Func<Chart>> HeadlineStrata()
    {
        foreach (var measure in model.Measures.Where(measure => measure.Headline))
            if (StrataPlot.Of(measure, model.Titles) is { IsEmpty: false } strata)
            {
                var id = measure.Measure.Id;
                var drawing = new SectionDrawing(measure.Measure.Title + " by stratum", measure.Measure.Per, measure.YearEstimate, strata);
                foreach (var job in Strata(new(Charts.StrataId(id), id + "-by-stratum",
                    (part, _) => $"{id}-by-{string.Join("-", part.Select(block => block.Id))}", drawing, Year)))
                    yield return job;
            }
    }

    private IEnumerable<Func<Chart>> Sections()
    {
        foreach (var section in model.Sections)
            if (SectionPlot.Of(section, model.Titles) is { } drawing)
                foreach (var job in Strata(new(section.Id, section.Id, (_, at) => $"{section.Id}-{at + 1}", drawing,
                    Wording.Span(section.From, section.To))))
                    yield return job;
    }

    /// <summary>A drawing by strata with its names.</summary>
    /// <param name="Id">Its id on the page.</param>
    /// <param name="PageName">Its name.</param>
    /// <param name="Slide">The name of a slide, from what it shows and its place among them.</param>
    /// <param name="Drawing">What is drawn.</param>
    /// <param name="Period">The months.</param>
    private sealed record StrataCharts(
        string Id, string PageName, Func<ImmutableArray<StrataBlock>, int, string> Slide, SectionDrawing Drawing, string Period)
    {
        public Chart Draw(string id, string name, SectionDrawing part, string? foot) => DrawChart.Draw(
            new(id, name, part.Title, StrataPlot.Describe(part, Period)), (StrataPlot.Width, StrataPlot.Height(part.Blocks)), foot,
            sheet => StrataPlot.Draw(sheet, part, Period));
    }

    /// <summary>On a page the strata stand under each other; a slide holds a few of them.</summary>
    private IEnumerable<Func<Chart>> Strata(StrataCharts charts)
    {
        var page = _names.Unused(charts.PageName);
        yield return () => charts.Draw(charts.Id, page, charts.Drawing, foot: null);
        if (_foot is null)
            yield break;
        foreach (var (at, part) in StrataPlot.Parts(charts.Drawing.Blocks).Index())
        {
            var name = _names.Unused(charts.Slide(part, at));
            yield return () => charts.Draw($"{charts.Id} {part[0].Id}", name, charts.Drawing with { Blocks = part }, _foot);
        }
    }

    private IEnumerable<Func<Chart>> ControlCharts()
    {
        foreach (var control in model.ControlCharts?.Charts ?? [])
        {
            var name = _names.Unused("control_" + control.Id);
            yield return () => DrawChart.Draw(
                new(ControlPlot.Id(control), name, ControlPlot.Title(control), ControlPlot.Describe(control)),
                (ControlPlot.Width, ControlPlot.Height), _foot, sheet => ControlPlot.Draw(sheet, control));
        }
    }

    private IEnumerable<Func<Chart>> RareEvents()
    {
        foreach (var events in model.RareEvents.Where(RareEventPlot.Draws))
        {
            var name = _names.Unused(RareEventPlot.Id(events));
            yield return () => DrawChart.Draw(
                new(RareEventPlot.Id(events), name, RareEventPlot.Title(events), RareEventPlot.Describe(events)),
                (RareEventPlot.Width, RareEventPlot.Tall), _foot, sheet => RareEventPlot.Draw(sheet, events));
        }
    }

    private IEnumerable<Func<Chart>> Funnels()
    {
        foreach (var sites in model.Sites)
        {
            var name = _names.Unused(FunnelPlot.Id(sites));
            yield return () => DrawChart.Draw(
                new(FunnelPlot.Id(sites), name, FunnelPlot.Title(sites), FunnelPlot.Describe(sites)),
                (FunnelPlot.Width, FunnelPlot.Height), _foot, sheet => FunnelPlot.Draw(sheet, sites));
        }
    }

    private IEnumerable<Func<Chart>> Ladder()
    {
        if (model.Ladder is not { } ladder)
            yield break;
        var (name, year) = (_names.Unused(Charts.LadderId), Year);
        yield return () => DrawChart.Draw(new(Charts.LadderId, name, "Plan ladder", LadderPlot.Describe(ladder)),
            (LadderPlot.Width, LadderPlot.Height(ladder)), _foot, sheet => LadderPlot.Draw(sheet, ladder, year));
    }
}
