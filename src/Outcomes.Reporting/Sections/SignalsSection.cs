using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>Has anything really changed? The headline measures under one false-alarm budget, and what this department could see.</summary>
internal static class SignalsSection
{
    private static readonly TableColumn[] Quiet =
    [
        "Measure", TableColumn.Num("History"), TableColumn.Num("Since then"), "Result"
    ];

    private static readonly TableColumn[] Changed = [.. Quiet, "Since when", "Proportion since"];

    public static void Write(Html html, Figures model)
    {
        var watched = model.Measures.Where(measure => measure.Signal is not null).ToList();
        if (watched.Count == 0)
            return;
        html.Add($"""<section aria-labelledby="signals"><h2 id="signals">Has anything really changed?</h2>""");
        html.Add($"<p>{Headline(watched)}</p>");
        var changed = watched.Any(measure => measure.Signal!.Change is not null);
        Table.Write(html, "t-signals", "Monthly test of the headline measures", changed ? Changed : Quiet, () =>
        {
            foreach (var measure in watched)
                Row(html, measure, changed);
        }, "wordy");
        // Below the table: a column beside four others has no room for whole sentences.
        foreach (var measure in watched)
            if (MixWording.Difference(measure) is { Length: > 0 } differs)
                html.Add($"<p><strong>{measure.Measure.Title}.</strong> {differs}</p>");
        if (MixWording.Which(watched) is { Length: > 0 } which)
            html.Add($"<p>{which}</p>");
        Sights(html, watched);
        html.Add($"<p>{Promise(model, watched.Count)} No signal does not prove that nothing changed.</p>");
        if (changed)
            html.Add($"<p>A signal is worth a look, in this order: recording, definitions, case mix, season, staffing and equipment, "
                + $"and only then performance. It is never about one person.</p>");
        html.Add($"</section>\n");
    }

    private static string Headline(List<MeasureFigures> watched)
    {
        var found = watched.Where(measure => measure.Signal!.State == ChangeState.ChangeSignal)
            .Select(measure => measure.Measure.Title).ToList();
        var few = watched.Count(measure => measure.Signal!.State == ChangeState.TooFewToJudge);
        var quiet = watched.Count - found.Count - few;
        return string.Join(" ", new[]
        {
            found.Count > 0 ? $"Change signal: {string.Join("; ", found)}." : "",
            quiet > 0 ? $"No sign of change in {Wording.Some(quiet, "headline measure")}." : "",
            few > 0 ? $"Too few procedures to judge {Wording.Some(few, "headline measure")}." : "",
        }.Where(part => part.Length > 0));
    }

    private static void Row(Html html, MeasureFigures report, bool changed)
    {
        var signal = report.Signal!;
        html.Add($"""<tr><th scope="row"><a href="#m-{Encode.Slug(report.Measure.Id)}">{report.Measure.Title}</a></th>""");
        if (signal.Window is { } window)
        {
            var since = window.Reading.Months.Aggregate(default(Count), (sum, month) => sum + month.Count);
            Period(html, Side(window.Reading.History, report.Measure.Per), Wording.Span(window.HistoryFrom, window.HistoryTo));
            Period(html, Side(since, report.Measure.Per),
                Wording.Span(window.ReportsFrom, window.Of(window.Reading.Months.Length - 1)));
        }
        else
        {
            html.Add($"""<td class="n"></td><td class="n"></td>""");
        }

        html.Add($"<td>");
        if (signal.State == ChangeState.ChangeSignal)
            html.Add($"""<strong class="signal">◆ {SignalWording.Said(report)}</strong>""");
        else
            html.Add($"{SignalWording.Said(report)}");
        html.Add($"</td>");
        if (changed)
            html.Add($"<td>{SignalWording.Started(signal)}</td><td>{SignalWording.Since(report)}</td>");
        html.Add($"</tr>\n");
    }

    private static void Period(Html html, string side, string months) =>
        html.Add($"""<td class="n">{side}<span class="sub">{months}</span></td>""");

    private static string Side(Count count, int per) =>
        count.Eligible == 0 ? "none eligible" : $"{Wording.Fraction(count)}, {Wording.Rate(count.Met / (double)count.Eligible, per)}";

    private static void Sights(Html html, List<MeasureFigures> watched)
    {
        var seen = watched.Where(measure => measure.Signal!.Sights.Length > 0).ToList();
        if (seen.Count == 0)
            return;
        TableColumn[] columns =
        [
            "Measure", $"A change from … to … would be noticed within {seen[0].Signal!.Sights[0].WithinMonths} months"
        ];
        Table.Write(html, "t-sights", "What this department could see, at its own volume", columns, () =>
        {
            foreach (var measure in seen)
                Table.Row(html, columns, measure.Measure.Title, SignalWording.Could(measure.Signal!, measure.Measure.Per));
        });
        html.Add($"<p>From the level that the monthly test takes for the present one, with the volumes of the last 12 "
            + $"months. Where the months "
            + $"already lean one way, a change that way is noticed sooner.");
        if (seen.Any(measure => measure.Signal!.Mix == MixUse.Followed))
            html.Add($" Where case mix is followed, later months are taken to have patients like those so far.");
        html.Add($"</p>");
    }

    private static string Promise(Figures model, int measures) => model.Pace switch
    {
        Pace.Faster => "About 1 in 10 departments in which nothing changes, and more where months vary by themselves, "
            + $"will see a false signal on the {Wording.Some(measures, "measure")} in three years of monthly reports.",
        _ => $"Up to 1 in 10 departments in which nothing changes will see a false signal on the {Wording.Some(measures, "measure")} in "
            + "three years of monthly reports.",
    };
}
