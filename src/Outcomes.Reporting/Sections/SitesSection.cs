using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>Headline measures between sites: each against the limits that chance allows its own number of records. Never ranked.</summary>
internal static class SitesSection
{
    private static readonly TableColumn[] Columns =
    [
        "Site", TableColumn.Num("n/N"), TableColumn.Num("Estimate (95 % interval)"), TableColumn.Num("95 % limits"),
        TableColumn.Num("99.8 % limits"), TableColumn.Num("Shrunken (95 % interval)"), "Where it lies",
    ];

    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        if (model.Sites.IsEmpty)
            return;
        html.Add($"""<section aria-labelledby="sites"><h2 id="sites">Between sites</h2>""");
        html.Add($"<p>Headline measures, {Wording.Span(model.Sites[0].From, model.Sites[0].To)}, sites in the order of their code. "
            + $"The limits are exact: where all sites share the pooled value, chance alone puts at most one site in twenty outside the "
            + $"95{Wording.Space}% limits, and at most one in five hundred outside the 99.8{Wording.Space}% limits. A shrunken estimate is "
            + $"pulled towards the mean as far as a site's own records leave it open. Nothing is adjusted for case mix here.</p>");
        html.Add($"<p>{ChartCautions.Funnel}</p>");
        foreach (var each in model.Sites)
        {
            html.Add($"<article><h3>{each.Measure.Title}, between sites</h3>");
            html.Add($"<p>{SiteWording.Pooled(each)}</p><p>{SiteWording.Trusted(each)}</p>");
            if (charts.FirstOrDefault(chart => chart.Id == FunnelPlot.Id(each)) is { } drawn)
                MeasuresSection.Figure(html, drawn, FunnelPlot.Title(each));
            Rows(html, each);
            html.Add($"</article>\n");
        }

        html.Add($"</section>\n");
    }

    private static void Rows(Html html, SiteComparison sites)
    {
        var per = sites.Measure.Per;
        Table.Write(html, $"t-sites-{Encode.Slug(sites.Measure.Id)}", $"{sites.Measure.Title} by site", Columns, () =>
        {
            foreach (var (point, of) in sites.Funnel.Points.Zip(sites.Estimates))
                Table.Row(html, Columns, point.Group, Wording.Fraction(point.Count),
                    of is { } estimate
                        ? $"{Wording.Rate(estimate.Value, per)} ({Wording.Range(estimate.Lower, estimate.Upper, per)})"
                        : "none eligible",
                    Limits(point.Limits?.Within95, per), Limits(point.Limits?.Within998, per),
                    SiteWording.Shrunken(sites.Shrinkage?.Groups.FirstOrDefault(group => group.Group == point.Group), per),
                    SiteWording.Place(point));
        });
    }

    private static string Limits(Bounds? limits, int per) => limits is { } ends ? Wording.Range(ends.Lower, ends.Upper, per) : "none";
}
