using System.Globalization;
using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>Did we record them all? Against what somebody else counted, or the plain word that nobody knows.</summary>
internal static class CaptureParagraph
{
    private static readonly TableColumn[] Columns =
    [
        "Period", TableColumn.Num("Recorded / counted"), TableColumn.Num("Capture (95 % interval)"), "Counted from"
    ];

    public static void Write(Html html, Figures model)
    {
        html.Add($"<h3>Were all procedures recorded?</h3>");
        if (model.Capture is not { } capture)
        {
            html.Add($"<p>Not known: the pipeline has no independent count (<code>capture:</code>) of tubes issued, relaxant packs or "
                + $"admissions to set the records against.</p>");
            return;
        }

        if (capture.Year is not { } year)
        {
            html.Add($"<p>Not known: {capture.File} counts no month of {Wording.Span(model.YearFrom, model.Month)}.</p>");
            return;
        }

        html.Add($"<p>{Said(year)}</p>");
        if (year.MonthsCounted < year.Months)
            html.Add($"<p>Only {$"{year.MonthsCounted} of {year.Months}"} months have a count; the ratio is of those.</p>");
        Table.Write(html, "t-capture", "Records against an independent count", Columns, () =>
        {
            Row(html, Wording.Span(year.From, year.To), year);
            foreach (var site in capture.Sites) Row(html, $"{Wording.Span(site.From, site.To)}, site {site.Site}", site);
            foreach (var month in capture.Months.Where(month => month.From >= year.From)) Row(html, Wording.Name(month.From), month);
        });
        html.Add($"<p>Wilson interval of the share recorded, each record taken as one of those counted. The count is taken as right: "
            + $"its own errors are not in it. More records than counted are no share and have no interval.</p>");
    }

    /// <summary>One sentence on the ratio, and what it means where it is low or above one.</summary>
    public static string Said(CaptureRatio ratio)
    {
        var counted = $"{Wording.Number(ratio.Records)} recorded, {Wording.Number(ratio.Counted)} counted independently ({ratio.Source})";
        return ratio.Value is null ? $"{counted}: there is no ratio."
            : ratio.Low ? $"{counted}: {Rate(ratio)}. Fewer than 80 % were recorded. What was left out is seldom like what was entered, "
                + "so every figure below may be of another group than the department’s patients; find out who was not entered first."
            : ratio.High ? $"{counted}: {Rate(ratio)}. More were recorded than counted: the count misses some, or records are double or "
                + "belong to another place or month. Until that is settled the ratio says nothing about completeness."
            : $"{counted}: {Rate(ratio)}.";
    }

    private static void Row(Html html, string period, CaptureRatio ratio) =>
        Table.Row(html, Columns, period, $"{Wording.Number(ratio.Records)}/{Wording.Number(ratio.Counted)}", Rate(ratio), ratio.Source);

    // A ratio may exceed 1, where a proportion's wording would say "more than 99.9 %".
    private static string Rate(CaptureRatio ratio) =>
        ratio is not { Value: { } value } ? ""
        : $"{Percent(value)}{Wording.Space}%" + (ratio.Interval is { } interval
            ? $" ({Percent(interval.Lower)}{Wording.Space}to{Wording.Space}{Percent(interval.Upper)}{Wording.Space}%)" : "");

    private static string Percent(double value) => (value * 100).ToString("0.0", CultureInfo.InvariantCulture);
}
