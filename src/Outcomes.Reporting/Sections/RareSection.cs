using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>Events too rare for a monthly chart: how many, how long ago, how far apart, and against what the baseline foretells.</summary>
internal static class RareSection
{
    private static readonly TableColumn[] Columns =
    [
        "Event", TableColumn.Num("Events / cases"), "Rate (95 % interval)", "Last event", "Cases from one event to the next",
        "After the baseline", "Verdict",
    ];

    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        if (model.RareEvents.IsEmpty)
            return;
        var first = model.RareEvents[0];
        html.Add($"""<section aria-labelledby="rare"><h2 id="rare">Rare events</h2>""");
        html.Add($"<p>Measures whose events, or failures, are too rare for a run chart. {Wording.Span(first.From, first.To)}, in order of "
            + $"date. Expected numbers come from the declared baseline, {Wording.Span(first.Baseline.From, first.Baseline.To)}. "
            + $"Limits assume equal chances from case to case, at three standard errors; there are none where fewer than three gaps end in "
            + $"the baseline. The gap since the last event can still grow. Measures that share four in five events are shown once. "
            + $"Days between events are in <code>tables/rare_events.csv</code>.</p>");
        Table.Write(html, "t-rare", "Rare events", Columns, () =>
        {
            foreach (var each in model.RareEvents.Where(each => each.ToldUnder is null))
                Table.Row(html, Columns, RareWording.Event(each), Wording.Fraction(each.Count),
                    each.Estimate is { } estimate ? $"{Wording.Rate(estimate.Value, each.Measure.Per)} "
                        + $"({Wording.Range(estimate.Lower, estimate.Upper, each.Measure.Per)})" : "no case",
                    RareWording.Last(each), RareWording.Between(each), RareWording.Expected(each),
                    string.Join(' ', new[] { Verdict(model, each), RareWording.Bound(each), RareWording.Alike(each) }
                        .Where(text => text.Length > 0)));
        }, "wordy");
        foreach (var each in model.RareEvents)
            if (charts.FirstOrDefault(chart => chart.Id == RareEventPlot.Id(each)) is { } drawn)
            {
                html.Add($"<article><h3>{RareEventPlot.Title(each)}</h3>");
                MeasuresSection.Figure(html, drawn, RareEventPlot.Title(each));
                html.Add($"</article>\n");
            }

        html.Add($"<p>{ChartCautions.ControlChart}</p></section>\n");
    }

    private static string Verdict(Figures model, RareEvents each) =>
        model.Measures.FirstOrDefault(measure => measure.Measure.Id == each.Measure.Id)?.Verdict is { } verdict
            ? VerdictWording.Full(verdict, model.Titles) : "";
}
