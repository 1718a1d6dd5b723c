using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>Control charts: months against limits from the declared baseline, folded away since they decide nothing.</summary>
internal static class ControlSection
{
    public const string Id = "limits";

    private static readonly TableColumn[] Columns =
    [
        "What is charted", TableColumn.Num("Centre"), TableColumn.Num("Last month"), TableColumn.Num("Its limits"),
        "How far to trust the limits"
    ];

    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        if (model.ControlCharts is not { } control)
            return;
        html.Add($"""<section aria-labelledby="{Id}"><h2 id="{Id}">Control charts</h2>""");
        if (control.Why is { } why)
        {
            html.Add($"<p>There are no control charts yet. {ControlWording.Why(why)}</p></section>\n");
            return;
        }

        html.Add($"<p>Each month against the centre of the declared baseline, with the limits within which chance alone keeps a month of "
            + $"its size: exact limits, each side passed by chance in at most 0.135{Wording.Space}% of months. Always by month, whatever "
            + $"the run charts do. Procedures are counted for each calendar day of their month and are what was recorded: fewer may mean "
            + $"fewer recorded. {ControlWording.NoVerdict}</p>");
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
            ControlWording.Doubts(report));
    }

    private static string Of(ControlChartFigures report, ControlPoint point)
    {
        var (_, numerator, denominator) = report.Months[point.Position];
        return report.Charted == Charted.Proportion
            ? Wording.Fraction(new Count(numerator, denominator, 0))
            : $"{Wording.Number(numerator)} in {Wording.Some(denominator, "day")}";
    }

    private static void Folded(Html html, ControlChartFigures report, Chart? drawn)
    {
        html.Add($"<details><summary>Chart and data: {report.Title}</summary>");
        if (drawn is not null)
            MeasuresSection.Figure(html, drawn, ControlPlot.Title(report));
        TableColumn[] columns =
        [
            "Month", TableColumn.Num("Of what"), TableColumn.Num("Value"), TableColumn.Num("Limits"),
            .. report.Wider.IsEmpty ? (TableColumn[])[] : [TableColumn.Num("Wider limits")]
        ];
        Table.Write(html, $"d-limits-{Encode.Slug(report.Id)}", $"{report.Title}, month by month", columns, () =>
        {
            foreach (var (p, phase) in report.Phases.Index())
                foreach (var (i, point) in phase.Chart.Points.Index())
                {
                    var wider = report.Wider.IsEmpty ? [] : (string[])[ControlWording.Limits(report, report.Wider[p].Chart.Points[i])];
                    Table.Row(html, columns, [Wording.Abbreviated(report.Months[point.Position].Month),
                        point.Value is null ? "no cases" : Of(report, point),
                        ControlWording.Value(report, point.Value), point.Value is null ? "" : ControlWording.Limits(report, point),
                        .. wider]);
                }
        }, "data");
        html.Add($"</details>");
    }
}
