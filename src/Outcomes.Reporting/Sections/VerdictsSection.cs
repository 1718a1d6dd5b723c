using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>The verdict of every headline measure, with its sentence and the counts behind it.</summary>
internal static class VerdictsSection
{
    private static readonly TableColumn[] Columns =
    [
        "Measure", TableColumn.Num("History"), TableColumn.Num("Since then"), "What is said of it"
    ];

    public static void Write(Html html, Figures model)
    {
        var tested = model.Measures.Where(measure => measure.Signal is not null).ToList();
        if (tested.Count == 0)
            return;
        html.Add($"""<section aria-labelledby="verdicts"><h2 id="verdicts">Has anything changed?</h2>""");
        Table.Write(html, "t-verdicts", "Verdicts on the headline measures", Columns, () =>
        {
            foreach (var measure in tested)
                Row(html, model, measure);
        }, "wordy");
        if (CaseMixUseWording.Say(tested) is { Length: > 0 } which)
            html.Add($"<p>{which}</p>");
        html.Add($"<p>{FalseStatementsWording.Say(model.FalseStatements)} No sign of change does not prove that nothing changed.</p>");
        if (tested.Any(measure => measure.Verdict is { SaysChange: true }))
            html.Add($"<p>Look for causes in this order: recording, definitions, case mix, season, staffing and equipment, "
                + $"then performance. A change is never about one person.</p>");
        html.Add($"</section>\n");
    }

    private static void Row(Html html, Figures model, MeasureFigures report)
    {
        html.Add($"""<tr><th scope="row"><a href="#m-{Encode.Slug(report.Measure.Id)}">{report.Measure.Title}</a></th>""");
        if (report.Signal!.Window is { } window)
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

        html.Add($"<td>{VerdictWording.Caption(report.Verdict!, model.Titles)}</td></tr>\n");
    }

    private static void Period(Html html, string side, string months) =>
        html.Add($"""<td class="n">{side}<span class="sub">{months}</span></td>""");

    private static string Side(Count count, int per) =>
        count.Eligible == 0 ? "none eligible" : $"{Wording.Fraction(count)}, {Wording.Rate(count.Met / (double)count.Eligible, per)}";
}
