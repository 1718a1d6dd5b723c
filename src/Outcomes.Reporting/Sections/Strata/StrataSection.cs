using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>The last 12 months by stratum: a table a field, headline measures in view, the others a click away.</summary>
internal static class StrataSection
{
    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        html.Add($"""<section aria-labelledby="strata"><h2 id="strata">Strata</h2>""");
        var parts = model.Measures.Where(measure => measure.NotCollected is null)
            .SelectMany(measure => measure.Strata.Where(stratum => StratumFigures.Allowed(measure.Measure, stratum.Field)
                && !stratum.Levels.IsEmpty)
                .Select(stratum => (Measure: measure, Stratum: stratum))).ToList();
        if (parts.Count == 0)
        {
            html.Add($"<p>No stratum was asked for, none has records, or there are fewer than 12 months yet: "
                + $"groups are not shown over less.</p></section>\n");
            return;
        }

        html.Add($"<p>{Wording.Span(model.YearFrom, model.Month)}. Levels differ in their patients: a difference between them is a "
            + $"question, not a finding. Levels with fewer than {Wording.Number(StratumFigures.LeastRecords)} records are merged; "
            + $"who held the laryngoscope is never set beside death, arrest or front-of-neck access. On paper the other measures are left "
            + $"out, unless their boxes were opened first; all are in <code>tables/estimates.csv</code>.</p>");
        foreach (var (measure, chart) in model.Measures.Join(charts, measure => Charts.StrataId(measure.Measure.Id), chart => chart.Id,
            (measure, chart) => (measure, chart)))
        {
            html.Add($"<h3>{measure.Measure.Title}, by stratum</h3>");
            MeasuresSection.Figure(html, chart, chart.Title);
        }

        foreach (var field in parts.GroupBy(part => part.Stratum.Field))
        {
            var (slug, title) = (Encode.Slug(field.Key), Readable.WithinSentence(model.Titles.Column(field.Key)));
            html.Add($"<h3>{model.Titles.Column(field.Key)}</h3>");
            var headline = field.Where(part => part.Measure.Headline).ToList();
            var rest = field.Where(part => !part.Measure.Headline).ToList();
            if (headline.Count > 0)
                StratumTable.Write(html, $"s-{slug}", $"Headline measures by {title}", model.Titles,
                    headline.Select(part => (part.Measure.Measure, part.Stratum)));
            if (rest.Count == 0)
                continue;
            html.Add(
                $"""<details class="more"><summary>{Wording.Some(rest.Count, "other measure")} by {title}</summary>""");
            StratumTable.Write(html, $"s-{slug}-rest", $"Other measures by {title}", model.Titles,
                rest.Select(part => (part.Measure.Measure, part.Stratum)));
            html.Add($"</details>");
        }

        html.Add($"</section>\n");
    }
}
