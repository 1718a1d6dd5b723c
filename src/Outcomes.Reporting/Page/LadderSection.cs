using System.Collections.Immutable;
using Outcomes.Measures;
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

        html.Add($"""<p>{Wording.Some(ladder.Records, "emergency record")}, {Wording.Span(model.YearFrom, model.Month)}: {Basis(ladder)}. A record can go through several plans, and return.</p>""");
        if (charts.FirstOrDefault(chart => chart.Id == Charts.LadderId) is { } drawn)
            MeasuresSection.Figure(html, drawn, "plan ladder");

        Column[] columns = ["Plan", Column.Num("Started with it"), Column.Num("Share of starts, 95 % together"), Column.Num("Used it"), Column.Num("Left it"), Column.Num("Succeeded / known")];
        Table.Write(html, "t-plans", "Plans used and their success", columns, () =>
        {
            foreach (var (i, plan) in ladder.Plans.Index())
                Table.Row(html, columns, $"{plan.Plan}, {LadderPlot.Name(plan.Plan)}", Wording.Number(plan.Started), Share(model, i), Wording.Number(plan.Used),
                    Wording.Number(plan.Left), plan.OutcomeKnown == 0 ? "none known" : $"{Wording.Number(plan.Succeeded)}/{Wording.Number(plan.OutcomeKnown)}");
        });
        Column[] steps = ["From", "To", Column.Num("Records")];
        Table.Write(html, "t-steps", "Steps between plans", steps, () =>
        {
            foreach (var step in ladder.Steps)
                Table.Row(html, steps, step.From, step.To, Wording.Number(step.Records));
        });
        html.Add($"</section>\n");
    }

    private static string Share(ReportModel model, int plan) =>
        plan < model.LadderShares.Length ? Wording.Range(model.LadderShares[plan].Lower, model.LadderShares[plan].Upper, 100) : "no start known";

    /// <summary>What the way of each record was read from.</summary>
    private static string Basis(PlanLadder ladder)
    {
        (long Records, string From)[] parts =
        [
            (ladder.FromAttempts, "from the order of the attempts"), (ladder.FromPlanFields, "from the plan fields, in the order of the letters"),
            (ladder.FromFinalPlan, "where only the final plan is known, counted for its use and success alone"), (ladder.Unknown, "where nothing is known about plans"),
        ];
        return string.Join("; ", parts.Where(part => part.Records > 0).Select(part => $"{Wording.Number(part.Records)} {part.From}"));
    }
}
