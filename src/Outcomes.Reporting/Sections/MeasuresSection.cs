using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Drawings;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>A run chart a measure, with its words and its data.</summary>
internal static class MeasuresSection
{
    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        html.Add($"""<section aria-labelledby="measures"><h2 id="measures">Measure by measure</h2>""");
        html.Add($"<p>{RunChartWording.Key}</p>");
        var byId = charts.ToDictionary(chart => chart.Id, StringComparer.Ordinal);
        foreach (var group in MeasureGroups.Of(model.Measures.Where(measure => measure.NotCollected is null
            && measure.Measure.Kind == MeasureKind.Proportion)))
        {
            html.Add($"<h3 class=\"group\">{MeasureGroups.Title(group.Key)}</h3>");
            foreach (var measure in group)
                One(html, model, measure, byId.GetValueOrDefault(measure.Measure.Id));
        }

        html.Add($"</section>\n");
    }

    private static void One(Html html, Figures model, MeasureFigures report, Chart? chart)
    {
        var slug = Encode.Slug(report.Measure.Id);
        html.Add($"""<article class="measure" aria-labelledby="m-{slug}"><h4 id="m-{slug}">{report.Measure.Title}</h4>""");
        html.Add($"""<p class="figures"><span class="nb">""");
        html.Add($"{Wording.Span(model.YearFrom, model.Month)}: {SummarySection.Fraction(report.Year)}</span> · ");
        SummarySection.Estimate(html, report);
        if (FlowWording.Denominator(report.Denominator, report.Year) is { Length: > 0 } denominator)
            html.Add($"""<span class="sub">{denominator}</span>""");
        html.Add($"</p>");
        if (chart is not null)
            Figure(html, chart, report.Measure.Title);
        if (report.RunChart is { } runChart)
        {
            if (report.Verdict is { Reason: not VerdictReason.NotAsked } verdict)
                html.Add($"""<p class="words">{VerdictWording.Caption(verdict, model.Titles)}</p>""");
            if (report.IsTooRareToChart)
            {
                html.Add($"""<p class="words">{RunChartWording.TooRare}</p>""");
            }
            else
            {
                if (RunChartWording.Note(runChart, model.First) is { Length: > 0 } note)
                    html.Add($"""<p class="words">{note}</p>""");
                Data(html, model, report, runChart, slug);
            }
        }

        html.Add($"</article>\n");
    }

    /// <summary>The drawing without its own title line and foot: the page says both.</summary>
    public static void Figure(Html html, Chart chart, string title) =>
        html.Add($"""<figure class="chart" role="group" aria-label="Chart: {title}" tabindex="0">"""
            + $"{new Markup(Svg.WithoutTitle(chart.Svg))}</figure>");

    /// <summary>The chart of a section that has one of its own.</summary>
    public static void Figure(Html html, ImmutableArray<Chart> charts, string id)
    {
        if (charts.FirstOrDefault(chart => chart.Id == id) is { } drawn)
            Figure(html, drawn, drawn.Title);
    }

    private static void Data(Html html, Figures model, MeasureFigures report, RunChart chart, string slug)
    {
        var per = report.Measure.Per;
        TableColumn[] columns =
        [
            chart.Span == PointSpan.Quarter ? "Quarter" : "Month", "n/N", Wording.Unit(per), "95 % interval", "Missing",
        ];
        html.Add($"<details><summary>Data of this chart</summary>");
        Table.Write(html, $"d-{slug}", $"{report.Measure.Title}, point by point", columns, () =>
        {
            foreach (var (i, point) in report.Points.Index())
            {
                var interval = i < report.PointIntervals.Length ? report.PointIntervals[i] : null;
                Table.Row(html, columns, Wording.Point(chart.Span, model.First.AddMonths(point.Start)),
                    point.Value is null ? "no cases" : Wording.Fraction(point.Count),
                    point.Value is { } value ? Wording.Bare(value, per) : "",
                    interval is { } found ? $"{Wording.Bare(found.Lower, per)} to {Wording.Bare(found.Upper, per)}" : "",
                    Wording.Number(point.Count.Missing));
            }
        }, "data");
        html.Add($"</details>");
    }
}
