using System.Collections.Immutable;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Model;

namespace Outcomes.Reporting.Page;

/// <summary>The plan ladder: how many started at A, left it, to where, with what success.</summary>
internal static class LadderSection
{
    public static void Write(Html html, ReportModel model, ImmutableArray<Chart> charts)
    {
        html.Add($"""<section aria-labelledby="ladder"><h2 id="ladder">Plan ladder</h2>""");
        if (model.Ladder is not { } ladder)
        {
            html.Add($"<p>No source says which plans were used.</p></section>\n");
            return;
        }

        html.Add($"""<p>{Wording.Some(ladder.Records, "record")}, {Wording.Span(model.YearFrom, model.Month)}, read {Wording.Basis(ladder.Basis)}. {(ladder.Missing == 0 ? "All of them say" : Wording.Some(ladder.Missing, "more record does not say", "more records do not say"))} which plans were used. A plan succeeds where it gave the airway that lasted. A record can go through several plans, and return.</p>""");
        if (charts.FirstOrDefault(chart => chart.Id == Charts.LadderId) is { } drawn)
            MeasuresSection.Figure(html, drawn, "plan ladder");

        Column[] columns = ["Plan", Column.Num("Used"), Column.Num("Succeeded / used")];
        Table.Write(html, "t-plans", "Plans used and their success", columns, () =>
        {
            foreach (var plan in ladder.Plans)
                Table.Row(html, columns, $"{plan.Plan}, {LadderPlot.Name(plan.Plan)}", Wording.Number(plan.Used),
                    plan.Used == 0 ? "not used" : $"{Wording.Number(plan.Succeeded)}/{Wording.Number(plan.Used)}");
        });
        Column[] steps = ["From", "To", Column.Num("Records")];
        Table.Write(html, "t-steps", "Steps between plans", steps, () =>
        {
            foreach (var step in ladder.Steps)
                Table.Row(html, steps, step.From, step.To == LadderPlot.Wake ? LadderPlot.Name(step.To) : step.To, Wording.Number(step.Records));
        });
        html.Add($"</section>\n");
    }
}
