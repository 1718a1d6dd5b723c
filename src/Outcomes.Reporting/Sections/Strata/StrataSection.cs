using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>The last 12 months by stratum: a table a field, headline measures in view, the others a click away.</summary>
internal static class StrataSection
{
    private static readonly TableColumn[] Columns =
        [
            "Measure", "Level", TableColumn.Num("n/N"), TableColumn.Num("Estimate"), TableColumn.Num("95 % interval"),
            TableColumn.Num("Missing")
        ];

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

        html.Add(
            $"""<p>{Wording.Span(model.YearFrom, model.Month)}. Levels differ in their patients: a difference between them is a question, not a finding. Levels with fewer than {Wording.Number(StratumFigures.LeastRecords)} records are merged; who held the laryngoscope is never set beside death, arrest or front-of-neck access. On paper the other measures are left out, unless their boxes were opened first; all are in <code>tables/estimates.csv</code>.</p>""");
        foreach (var (measure, chart) in model.Measures.Join(charts, measure => Charts.StrataId(measure.Measure.Id), chart => chart.Id,
            (measure, chart) => (measure, chart)))
        {
            html.Add($"<h3>{measure.Measure.Title}, by stratum</h3>");
            MeasuresSection.Figure(html, chart, chart.Title);
        }

        foreach (var field in parts.GroupBy(part => part.Stratum.Field))
        {
            var slug = Encode.Slug(field.Key);
            html.Add($"<h3>{field.First().Stratum.Title}</h3>");
            var headline = field.Where(part => part.Measure.Headline).ToList();
            var rest = field.Where(part => !part.Measure.Headline).ToList();
            if (headline.Count > 0)
                Rows(html, $"s-{slug}", $"Headline measures by {Wording.Plain(field.Key)}",
                    headline.Select(part => (part.Measure.Measure, part.Stratum)));
            if (rest.Count == 0)
                continue;
            html.Add(
                $"""<details class="more"><summary>{Wording.Some(rest.Count, "other measure")} by {Wording.Plain(field.Key)}</summary>""");
            Rows(html, $"s-{slug}-rest", $"Other measures by {Wording.Plain(field.Key)}",
                rest.Select(part => (part.Measure.Measure, part.Stratum)));
            html.Add($"</details>");
        }

        html.Add($"</section>\n");
    }

    /// <summary>A row a level, grouped by measure.</summary>
    public static void Rows(Html html, string id, string caption, IEnumerable<(Measure Measure, StratumFigures Stratum)> parts) =>
        Table.Write(html, id, caption, Columns, () =>
        {
            foreach (var (measure, stratum) in parts)
            {
                var per = measure.Per;
                for (var i = 0; i < stratum.Levels.Length; i++)
                {
                    var (level, count, estimate) = stratum.Levels[i];
                    html.Add($"<tr{new Markup(i == 0 ? " class=\"first\"" : "")}>");
                    if (i == 0)
                        html.Add($"""<th scope="rowgroup" rowspan="{Wording.Number(stratum.Levels.Length)}">{measure.Title}</th>""");
                    html.Add(
                        $"""<td>{Wording.Level(stratum.Levels[i])}</td><td class="n">{SummarySection.Fraction(count)}</td><td class="n">{(estimate is null ? "" : Wording.Rate(estimate.Value, per))}</td><td class="n">{(estimate is null ? "" : Wording.Range(estimate.Lower, estimate.Upper, per))}</td><td class="n">{Wording.Number(count.Missing)}</td></tr>""");
                }
            }
        }, "strata");
}
