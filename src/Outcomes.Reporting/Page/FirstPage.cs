using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>
/// The side that stands alone: who is counted, harm as counts, the headline measures on a line each, and a few sentences.
/// </summary>
internal static class FirstPage
{
    public const string Id = "short";

    private static readonly TableColumn[] Columns =
    [
        "Measure", "By month, all months", TableColumn.Num("This month"), "Last 12 months (95 % interval)", "Verdict"
    ];

    public static void Write(Html html, Figures model, ImmutableDictionary<string, Chart> small)
    {
        CautionsSection.Line(html, model);
        html.Add($"""<p class="sum">{FirstPageWording.Recorded(model)}""");
        if (model.YearFlow is { Recorded: > 0 } flow)
            html.Add($" <strong>Who is counted</strong> in the last 12 months. {FlowWording.Line(flow)}");
        html.Add($"</p>");
        html.Add($"""<div class="pair"><div>""");
        HarmBox.Write(html, model);
        html.Add($"""</div><ul class="short">""");
        foreach (var statement in FirstPageWording.Of(model))
            html.Add($"""<li data-topic="{Encode.Slug($"{statement.Topic}".ToLowerInvariant())}">{statement.Text}</li>""");
        html.Add($"</ul></div>");
        var headline = model.Measures.Where(
            measure => measure is { Headline: true, NotCollected: null, Measure.Kind: MeasureKind.Proportion }).ToList();
        if (headline.Count > 0)
        {
            var columns = small.IsEmpty ? [.. Columns.Where((_, i) => i != 1)] : Columns;
            Table.Write(html, "t-first", $"Headline measures, {Wording.Name(model.Month)}", columns, () =>
            {
                foreach (var measure in headline)
                    Row(html, measure, small);
            }, small.IsEmpty ? "first plain" : "first");
            if (Key(headline) is { Length: > 0 } key)
                html.Add($"""<p class="sub">{key}</p>""");
        }
    }

    private static void Row(Html html, MeasureFigures report, ImmutableDictionary<string, Chart> small)
    {
        var measure = report.Measure;
        html.Add($"""<tr><th scope="row"><a href="{Appendix.File}#m-{Encode.Slug(measure.Id)}">{measure.Title}</a>"""
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
    }

    private static string Year(MeasureFigures report) => report.YearEstimate is not { } estimate ? "none eligible"
        : $"{Wording.Fraction(report.Year)}, {Wording.Estimate(estimate, report.Measure.Per)}"
            + (report.Year.Missing > 0 ? $"; {Wording.Number(report.Year.Missing)} missing" : "");

    private static string Key(List<MeasureFigures> headline) =>
        (headline.Any(measure => measure.MonthsVary) ? Wording.StarExplained + " " : "")
        + (headline.Any(measure => measure.Year.Missing > 0) ? "Missing records are in no figure." : "");
}
