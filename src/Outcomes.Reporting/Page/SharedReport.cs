using System.Text;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Disclosure;

namespace Outcomes.Reporting.Page;

/// <summary>The report to a network or the public.</summary>
public static class SharedReport
{
    // One wording for whatever hides a figure: which of the reasons it was would say something of the counts.
    private const string NotShown = "not shown";

    private static readonly TableColumn[] Recent =
    [
        "Measure", "Months", TableColumn.Num("Met / eligible"), "Estimate (95 % interval)", TableColumn.Num("Missing")
    ];
    private static readonly TableColumn[] Parts =
    [
        "Months", "Split by", "Group", TableColumn.Num("Met / eligible"), "Estimate (95 % interval)", TableColumn.Num("Missing")
    ];

    public static byte[] Utf8(SharedModel model)
    {
        ArgumentNullException.ThrowIfNull(model);
        var title = $"Airway outcomes, {Wording.Name(model.Month)}";
        return Encoding.UTF8.GetBytes(PageShell
            .OfReport($"{title} · {model.PipelineName}", Report.Foot(model.Release.Rule.Audience, model.Invented))
            .Write(html => Body(html, title, model)));
    }

    private static void Body(Html html, string title, SharedModel model)
    {
        var rule = model.Release.Rule;
        html.Add($"""
            <header class="masthead"><p class="stamp">{Wording.Audience(rule.Audience)}</p>
            """);
        if (model.Invented)
            html.Add($"""<p class="stamp">invented data: no patient, hospital or event in this report exists</p>""");
        html.Add(
            $"""<h1>{title}</h1><p class="lead">{model.PipelineName}"""
                + $""" · as known on {Wording.Date(model.AsOf)}</p></header><main id="main">""");
        Cautions(html, model);
        Summary(html, model);
        foreach (var measure in model.Measures)
            One(html, measure, model);
        html.Add(
            $"""</main><footer><p class="stamp">{Wording.Audience(rule.Audience)}</p><p>Outcomes {model.Version}. """
                + $"""Definitions SHA-256 <code>{model.DefinitionsHash}</code>.</p></footer>""");
    }

    private static void Cautions(Html html, SharedModel model)
    {
        var rule = model.Release.Rule;
        html.Add($"""
            <section class="caution" aria-labelledby="h-read"><h2 id="h-read">Read this first</h2>
            <p>For audit, teaching and improvement. <strong>Not a medical device, not for bedside decisions, not for judging an individual, not for ranking.</strong>
            Small numbers mislead: read every figure with its count and interval. Local policy, local information governance and licensed
            clinical judgement come first.</p>
            <p>Counts that could point at a person are left out. Periods are {Periods(model.Release.Periods)}, the same for every measure
            and whatever the counts; one that is not over is left out. “{NotShown}” has one of five reasons, and nothing says which.
            No record was counted, fewer than {Wording.Number(rule.Threshold)} were met or not met, or fewer than
            {Wording.Number(rule.LeastMissing)} were missing. Or an earlier period had too few, or another figure is protected by it.
            Groups stand only where none is too small for any headline measure; the others are merged into “(other)”.
            What an earlier set has shown of a period stays as it was shown. Records that came later or were corrected are in the
            department’s own report only.
            """);
        if (rule.RoundTo > 1)
            html.Add($" Counts are rounded to {Wording.Number(rule.RoundTo)}, "
                + $"and sums and estimates are made from the rounded counts.");
        html.Add(
            $""" Monthly series, signals, quantities, case mix, single cases and the state of the data are for the department alone."""
                + $"""</p>""");
        if (!model.Assumptions.IsEmpty)
        {
            html.Add($"<p>Stated for records whose source does not collect it: "
                + $"{CautionsSection.Assumptions(model.Assumptions, model.Titles)}.</p>");
        }

        html.Add($"</section>\n");
    }

    private static string Periods(Timetable periods) =>
        $"{(periods.Months == Timetable.Year ? "years" : "half-years")} from {Wording.MonthOfYear(periods.FirstMonth)} on";

    private static void Summary(Html html, SharedModel model)
    {
        html.Add(
            $"""<section aria-labelledby="summary"><h2 id="summary">Summary</h2>"""
                + $"""<p>The last 12 months or more that can be shown, or all where they are fewer.</p>""");
        Table.Write(html, "t-summary", "Measures", Recent, () =>
        {
            foreach (var measure in model.Measures)
                if (model.Release.Cells.FirstOrDefault(cell => cell.Measure == measure.Id && cell.Kind == CellKind.Recent) is { } cell)
                    Table.Row(html, Recent, measure.Title, Wording.Span(cell.From, cell.To), Wording.Fraction(cell.Count),
                        Wording.Estimate(cell.Estimate, measure.Per), Wording.Number(cell.Count.Missing));
                else
                    Table.Row(html, Recent, measure.Title, "", "", Why(model, measure), "");
        }, "summary");
        html.Add($"</section>\n");
    }

    // Whether the mapping has the fields is known without a count; nothing else is told apart.
    private static string Why(SharedModel model, Measure measure) =>
        model.NotCollected.Contains(measure.Id) ? "not collected" : NotShown;

    private static void One(Html html, Measure measure, SharedModel model)
    {
        var release = model.Release;
        ReleasedCell[] cells = [.. release.Cells.Where(cell => cell.Measure == measure.Id && cell.Kind == CellKind.Block)];
        html.Add(
            $"""<section aria-labelledby="m-{Encode.Slug(measure.Id)}"><h2 id="m-{Encode.Slug(measure.Id)}">{measure.Title}</h2>"""
                + $"""<dl class="definition"><div><dt>Name in the tables</dt><dd><code>{measure.Id}</code></dd></div>"""
                + $"""<div><dt>Eligible</dt><dd><code>{measure.Eligible}</code></dd></div>"""
                + $"""<div><dt>Met</dt><dd><code>{measure.Met}</code></dd></div>"""
                + $"""<div><dt>Source</dt><dd>{measure.Source}</dd></div></dl>""");
        if (cells.Length > 0)
            Table.Write(html, $"t-{Encode.Slug(measure.Id)}", measure.Title, Parts, () =>
            {
                foreach (var (from, to) in release.Cells.Where(cell => cell is { IsWhole: true, Kind: CellKind.Block })
                    .Select(cell => (cell.From, cell.To)).Distinct().Order())
                    if (cells.FirstOrDefault(cell => cell.IsWhole && cell.From == from) is { } shown)
                        Cell(html, measure, shown, model.Titles);
                    else
                        Table.Row(html, Parts, Wording.Span(from, to), "", CountRow.All,
                            "", NotShown, "");
                foreach (var cell in cells.Where(cell => !cell.IsWhole))
                    Cell(html, measure, cell, model.Titles);
            });
        html.Add($"</section>\n");
    }

    private static void Cell(Html html, Measure measure, ReleasedCell cell, Titles titles) => Table.Row(
        html, Parts, Wording.Span(cell.From, cell.To), cell.IsWhole ? "" : titles.Column(cell.Stratum), Group(cell, titles),
        Wording.Fraction(cell.Count), Wording.Estimate(cell.Estimate, measure.Per), Wording.Number(cell.Count.Missing));

    private static string Group(ReleasedCell cell, Titles titles) => cell.IsWhole ? CountRow.All
        : cell.Level == Protect.Other ? $"{Protect.Other}: small groups, merged"
        : LevelWording.Of(titles, cell.Stratum, cell.Level);
}
