using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>The plan ladder: how many started at A, left it, to where, with what success.</summary>
internal static class LadderSection
{
    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        html.Add($"""<section aria-labelledby="ladder"><h2 id="ladder">Plan ladder</h2>""");
        if (model.Ladder is not { } ladder)
        {
            html.Add($"<p>No source says which plans were used.</p></section>\n");
            return;
        }

        html.Add($"<p>{Wording.Some(ladder.Records, "emergency record")}, {Wording.Span(model.YearFrom, model.Month)}: {Basis(ladder)}. "
            + $"A record can go through several plans, and return.</p>");
        if (charts.FirstOrDefault(chart => chart.Id == Charts.LadderId) is { } drawn)
            MeasuresSection.Figure(html, drawn, "plan ladder");

        Plans(html, model, ladder);
        TableColumn[] steps = ["From", "To", TableColumn.Num("Records")];
        Table.Write(html, "t-steps", "Steps between plans", steps, () =>
        {
            foreach (var step in ladder.Steps)
                Table.Row(html, steps, step.From, step.To, Wording.Number(step.Records));
        });
        Times(html, model, ladder);
        html.Add($"</section>\n");
    }

    private static void Plans(Html html, Figures model, PlanLadder ladder)
    {
        TableColumn[] columns =
        [
            "Plan", TableColumn.Num("Started with it"), TableColumn.Num("Share of starts, 95 % together"), TableColumn.Num("Used it"),
            TableColumn.Num("Left it"), TableColumn.Num("Succeeded / known")
        ];
        Table.Write(html, "t-plans", "Plans used and their success", columns, () =>
        {
            foreach (var (i, plan) in ladder.Plans.Index())
                Table.Row(html, columns, $"{plan.Plan}, {LadderPlot.Name(plan.Plan)}", Wording.Number(plan.Started), Share(model, i),
                    Wording.Number(plan.Used), Wording.Number(plan.Left), plan.OutcomeKnown == 0
                        ? "none known"
                        : $"{Wording.Number(plan.Succeeded)}/{Wording.Number(plan.OutcomeKnown)}");
        });
    }

    /// <summary>The drawing and the plans' success, for a side of the report.</summary>
    public static void WriteShort(Html html, Figures model, PlanLadder ladder, ImmutableArray<Chart> charts)
    {
        html.Add($"<p>{Wording.Some(ladder.Records, "emergency record")}, {Wording.Span(model.YearFrom, model.Month)}. "
            + $"A record can go through several plans.</p>");
        MeasuresSection.Figure(html, charts, Charts.LadderId);
        Plans(html, model, ladder);
    }

    private static string Why(MeasureFigures time, Titles titles) =>
        time.NotCollected is { } why ? DataWording.WhyNot(why, titles) : "no record in this period";

    // In the order in which they happen.
    private static readonly string[] Timed =
    [
        "leave_plan_a_after", "other_plan_airway_after", "cico_to_front_of_neck", "front_of_neck_after", "tube_after_other_plan"
    ];

    private static void Times(Html html, Figures model, PlanLadder ladder)
    {
        var times = Timed.Select(id => model.Measures.FirstOrDefault(measure => measure.Measure.Id == id))
            .OfType<MeasureFigures>().ToArray();
        var told = times.Where(time => time.NotCollected is null).ToArray();
        if (told.Length > 0)
        {
            TableColumn[] columns = ["How fast", .. QuantityCells.Columns];
            Table.Write(html, "t-times", "Times of records that left plan A", columns, () =>
            {
                foreach (var time in told)
                    Table.Row(html, columns, [time.Measure.Title, .. QuantityCells.Of(time.YearQuantity, time.YearQuantity?.N ?? 0,
                        time.YearWithoutValue, time.YearUnrecordable)]);
            });
            html.Add($"<p>{Wording.Some(ladder.Plans.FirstOrDefault(plan => plan.Plan == "A")?.Left ?? 0, "record")} left plan A, "
                + $"woken ones included. Times run from induction as they were recorded; those of another plan come from its attempts. "
                + $"Fewer than {Wording.Number(StratumFigures.LeastRecords)} values are counted and not shown: the times of a single case "
                + $"are on its page for the review meeting. A short time is not better by itself, nor a long one worse.</p>");
        }

        if (times.Length > told.Length)
        {
            var without = times.Except(told).Select(time => $"{time.Measure.Title} ({Why(time, model.Titles)})");
            html.Add($"<p>Without times: {string.Join("; ", without)}.</p>");
        }
    }

    private static string Share(Figures model, int plan) =>
        plan < model.LadderShares.Length
            ? Wording.Range(model.LadderShares[plan].Lower, model.LadderShares[plan].Upper, 100)
            : "no start known";

    /// <summary>What the way of each record was read from.</summary>
    private static string Basis(PlanLadder ladder)
    {
        (long Records, string From)[] parts =
        [
            (ladder.FromAttempts, "from the order of the attempts"), (ladder.FromPlanFields, "from the plan fields, in the order "
                + "of the letters"), (ladder.FromFinalPlan, "where only the final plan is known, counted for its use and success alone"),
            (ladder.Unknown, "where nothing is known about plans"),
        ];
        return string.Join("; ", parts.Where(part => part.Records > 0).Select(part => $"{Wording.Number(part.Records)} {part.From}"));
    }
}
