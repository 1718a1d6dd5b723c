using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>What review meetings decided: open with their age, closed with their effect.</summary>
internal static class ActionsSection
{
    public const string Id = "actions";

    private static readonly TableColumn[] Columns = ["Action", "Owner", "Due", TableColumn.Num("Age, days"), "Status", "Measure"];

    public static void Write(Html html, Figures model)
    {
        if (model.Actions.IsEmpty)
            return;
        html.Add($"""<section aria-labelledby="{Id}"><h2 id="{Id}">Actions</h2>""");
        Body(html, model);
        html.Add($"</section>\n");
    }

    /// <summary>The same under a smaller heading, for a side of the report.</summary>
    public static void WriteShort(Html html, Figures model)
    {
        html.Add($"<h3>Actions</h3>");
        if (model.Actions.IsEmpty)
            html.Add($"<p>No action is open, and none was closed this month.</p>");
        else
            Body(html, model);
    }

    private static void Body(Html html, Figures model)
    {
        html.Add($"<p>{ActionWording.Sentence(model.Actions)}</p>");
        if (!model.Actions.Open.IsEmpty)
            Table.Write(html, "t-actions", $"Open actions on {Wording.Date(model.AsOf)}", Columns, () =>
            {
                foreach (var action in model.Actions.Open)
                    Table.Row(html, Columns, ActionWording.Named(action), action.Owner, Wording.Date(action.Due),
                        Wording.Number(action.AgeAt(model.AsOf)), ActionWording.Standing(action, model.AsOf), Measure(model, action));
            }, "wordy");
        foreach (var action in model.Actions.Closed)
            html.Add($"<p>Closed this month, {ActionWording.Named(action)}. Effect: {action.Effect}</p>");
        foreach (var action in model.Actions.WithoutEffect)
            html.Add($"<p>Closed without an effect, {ActionWording.Named(action)}. Say in <code>effect</code> what it brought about, "
                + $"or open it again.</p>");
        FollowedActions.Write(html, model.Actions);
    }

    private static string Measure(Figures model, DepartmentAction action) =>
        model.Measures.FirstOrDefault(measure => measure.Measure.Id == action.Measure)?.Measure.Title ?? action.Measure ?? "";
}
