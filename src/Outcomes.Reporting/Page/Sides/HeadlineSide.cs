using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>Run charts of headline measures, each under its verdict.</summary>
internal static class HeadlineSide
{
    public static void Write(Html html, Figures model, IReadOnlyList<MeasureFigures> measures, ImmutableArray<Chart> charts, bool withKey)
    {
        foreach (var measure in measures)
        {
            var slug = Encode.Slug(measure.Measure.Id);
            html.Add($"""<article class="measure" aria-labelledby="c-{slug}"><h3 id="c-{slug}">"""
                + $"""<a href="{Appendix.File}#m-{slug}">{measure.Measure.Title}</a></h3>""");
            if (measure.Verdict is { Reason: not VerdictReason.NotAsked } verdict)
                html.Add($"""<p class="words">{VerdictWording.Caption(verdict, model.Titles)}</p>""");
            if (charts.FirstOrDefault(chart => chart.Id == measure.Measure.Id) is { } drawn)
                MeasuresSection.Figure(html, drawn, measure.Measure.Title);
            if ((measure.IsTooRareToChart ? RunChartWording.TooRare : RunChartWording.Note(measure.RunChart!, model.First))
                is { Length: > 0 } note)
                html.Add($"""<p class="words">{note}</p>""");
            html.Add($"</article>\n");
        }

        if (withKey)
            html.Add($"""<p class="sub">{RunChartWording.Key}</p>""");
    }
}
