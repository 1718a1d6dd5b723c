using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>Was a single month unusual? Months against limits from the declared baseline, folded away since they do not decide.</summary>
internal static class ControlSection
{
    public const string Id = "limits";

    private static readonly TableColumn[] Columns =
    [
        "What is charted", TableColumn.Num("Centre"), TableColumn.Num("Last month"), TableColumn.Num("Its limits"), "What it says"
    ];

    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        if (model.ControlCharts is not { } control)
            return;
        html.Add($"""<section aria-labelledby="{Id}"><h2 id="{Id}">Was a single month unusual?</h2>""");
        if (control.Why is { } why)
        {
            html.Add($"<p>There are no control charts yet. {ControlWording.Why(why)}</p></section>\n");
            return;
        }

        html.Add($"<p>Control charts: each month against the centre of the declared baseline, "
            + $"with the limits within which chance alone keeps a month of its size. {ControlWording.WhyNotDecide}</p>");
        html.Add($"<p>Always by month, whatever the run charts do. Proportions and procedures have exact limits, "
            + $"each side passed by chance in at most 0.135{Wording.Space}% of months. Procedures are counted for each calendar day of "
            + $"their month and are what was recorded: fewer may mean fewer recorded. Medians have the limits of single values, from the "
            + $"steps between neighbouring baseline months; those of few records jump further by chance, which these limits do not know, "
            + $"and a month with fewer than {Wording.Number(ControlCharts.LeastValues)} values has none.</p>");
        if (control.Charts.Any(report => report.Last.Doubts.Contains(ChartDoubt.ShortBaseline)))
            html.Add($"<p>{ChartCautions.Say(ChartDoubt.ShortBaseline)} Common practice asks for 20 months or more.</p>");
        if (control.LeftOut is { } month)
            html.Add($"<p>{Wording.Name(month)} is not over and is left out here.</p>");
        if (!control.Charts.IsEmpty)
            Table.Write(html, "t-limits", "Months against their limits", Columns, () =>
            {
                foreach (var report in control.Charts)
                    Row(html, report);
            }, "wordy");
        foreach (var report in control.Charts)
            Folded(html, report, charts.FirstOrDefault(chart => chart.Id == ControlPlot.Id(report)));
        if (!control.Without.IsEmpty)
            html.Add($"<p>Without a chart: {string.Join("; ", Without(control))}.</p>");
        html.Add($"<p>{ChartCautions.ControlChart}</p></section>\n");
    }

    private static IEnumerable<string> Without(ControlCharts control) => control.Without.GroupBy(each => each.Why)
        .Select(group => $"{string.Join(", ", group.Select(each => each.Title))} ({ControlWording.Why(group.Key)})");

    private static void Row(Html html, ControlChartFigures report)
    {
        var last = report.Last.Points[^1];
        Table.Row(html, Columns, report.Title + (report.Charted == Charted.Volume ? $" (in {ControlWording.Days} days)" : ""),
            ControlWording.Value(report, report.Last.Centre), last.Value is null
                ? "no value"
                : $"{ControlWording.Value(report, last.Value)} ({Of(report, last)})", ControlWording.Limits(report, last),
            ControlWording.Said(report));
    }

    private static string Of(ControlChartFigures report, ControlPoint point)
    {
        var (_, numerator, denominator) = report.Months[point.Position];
        return report.Charted switch
        {
            Charted.Proportion => Wording.Fraction(new Count(numerator!.Value, denominator, 0)),
            Charted.Volume => $"{Wording.Number(numerator!.Value)} in {Wording.Some(denominator, "day")}",
            _ => $"n{Wording.Space}={Wording.Space}{Wording.Number(denominator)}",
        };
    }

    private static void Folded(Html html, ControlChartFigures report, Chart? drawn)
    {
        html.Add($"<details><summary>Chart and data: {report.Title}</summary>");
        if (drawn is not null)
            MeasuresSection.Figure(html, drawn, ControlPlot.Title(report));
        TableColumn[] columns =
        [
            "Month", TableColumn.Num("Of what"), TableColumn.Num("Value"), TableColumn.Num("Limits"),
            .. report.Wider.IsEmpty ? (TableColumn[])[] : [TableColumn.Num("Wider limits")], "Outside"
        ];
        Table.Write(html, $"d-limits-{Encode.Slug(report.Id)}", $"{report.Title}, month by month", columns, () =>
        {
            foreach (var (p, phase) in report.Phases.Index())
                foreach (var (i, point) in phase.Chart.Points.Index())
                {
                    var wider = report.Wider.IsEmpty ? [] : (string[])[ControlWording.Limits(report, report.Wider[p].Chart.Points[i])];
                    Table.Row(html, columns, [Wording.Abbreviated(report.Months[point.Position].Month),
                        point.Value is null && report.Charted != Charted.Medians ? "no cases" : Of(report, point),
                        ControlWording.Value(report, point.Value), point.Value is null ? "" : ControlWording.Limits(report, point),
                        .. wider, point.InBaseline ? "baseline" : point.Beyond ? "outside" : ""]);
                }
        }, "data");
        html.Add($"</details>");
    }
}
