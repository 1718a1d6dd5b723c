using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>The page that stands alone: what there is to say in a few sentences, and the headline measures on a line each.</summary>
internal static class FirstPage
{
    public const string Id = "short";

    private static readonly TableColumn[] Columns =
    [
        "Measure", "By month, all months", TableColumn.Num("This month"), "Last 12 months (95 % interval)", "Verdict"
    ];

    public static void Write(Html html, Figures model, ImmutableDictionary<string, Chart> small)
    {
        html.Add($"""<section class="first" aria-labelledby="{Id}"><h2 id="{Id}">In short</h2><ul class="short">""");
        foreach (var statement in FirstPageWording.Of(model))
            html.Add($"""<li data-topic="{Encode.Slug($"{statement.Topic}".ToLowerInvariant())}">{statement.Text}</li>""");
        html.Add($"</ul>");
        if (model.YearFlow is { Recorded: > 0 } flow)
            html.Add($"""<p class="sum"><strong>Who is counted</strong> ({Wording.Span(model.YearFrom, model.Month)}). """
                + $"{FlowWording.Line(flow)}</p>");
        var headline = model.Measures.Where(
            measure => measure is { Headline: true, NotCollected: null, Measure.Kind: MeasureKind.Proportion }).ToList();
        if (headline.Count > 0)
        {
            var columns = small.IsEmpty ? [.. Columns.Where((_, i) => i != 1)] : Columns;
            Table.Write(html, "t-first", $"Headline measures, {Wording.Name(model.Month)}", columns, () =>
            {
                foreach (var measure in headline)
                    Row(html, measure, small, columns.Length);
            }, "first");
            html.Add($"""<p class="sub">{Key(headline, small)}</p>""");
        }

        html.Add($"</section>\n");
    }

    private static void Row(Html html, MeasureFigures report, ImmutableDictionary<string, Chart> small, int columns)
    {
        var (measure, published) = (report.Measure, report.Measure.Published.Length > 0);
        html.Add(
            $"""<tr{new Markup(published ? " class=\"with\"" : "")}><th scope="row">"""
                + $"""<a href="#m-{Encode.Slug(measure.Id)}">{measure.Title}</a>"""
                + $"""<span class="sub">{SummarySection.Direction(measure.Direction)}</span></th>""");
        if (!small.IsEmpty)
            html.Add($"<td>{new Markup(small.GetValueOrDefault(measure.Id)?.Svg ?? "")}</td>");
        html.Add($"""<td class="n">{SummarySection.Fraction(report.ThisMonth)}</td><td>{Year(report)}""");
        if (report.ZeroBound is { } bound)
            html.Add(
                $"""<span class="sub">none: at most {Wording.Rate(bound, measure.Per)} """
                    + $"""(one-sided exact 95{Wording.Space}% bound)</span>""");
        html.Add($"</td><td>");
        SummarySection.Verdict(html, report);
        html.Add($"</td></tr>\n");
        if (published)
            html.Add(
                $"""<tr class="published"><td colspan="{columns.ToString(CultureInfo.InvariantCulture)}">"""
                    + $"""Published elsewhere, for context and no target: {measure.Published}</td></tr>""");
    }

    private static string Year(MeasureFigures report) => report.YearEstimate is not { } estimate ? "none eligible"
        : $"{Wording.Fraction(report.Year)}, {Wording.Rate(estimate.Value, report.Measure.Per)} "
            + $"({Wording.Range(estimate.Lower, estimate.Upper, report.Measure.Per)})"
            + (report.MonthsVary ? "*" : "")
            + (report.Year.Missing > 0 ? $"; {Wording.Number(report.Year.Missing)} missing" : "");

    private static string Key(List<MeasureFigures> headline, ImmutableDictionary<string, Chart> small) =>
        (small.IsEmpty ? "" : "Small charts: a point a month or quarter (hollow: fewer than 5 cases), "
            + "the line across is the baseline's median, dotted: a declared change, ◆ the month whose report told a change. ")
        + (headline.Any(measure => measure.MonthsVary) ? Wording.StarExplained + " " : "")
        + (headline.Any(measure => measure.Year.Missing > 0)
            ? "Missing records are in no figure here; the summary shows how far they could move it. "
            : "")
        + "Nothing here says whether care was good, and nothing is about one person.";
}
