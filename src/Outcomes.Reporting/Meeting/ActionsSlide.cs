using Outcomes.Analysis;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Meeting;

/// <summary>What earlier meetings decided: open, overdue, and closed without saying what it brought about.</summary>
internal static class ActionsSlide
{
    private static readonly TableColumn[] Columns = ["Action", "Owner", "Due", "Stands", "From"];

    public static void Write(Html html, Figures figures)
    {
        var actions = figures.Actions;
        MeetingPage.Open(html, "open-actions", "Open actions");
        html.Add($"<p>{ActionWording.Sentence(actions)}</p>");
        if (!actions.Open.IsEmpty)
            Table.Write(html, "t-open", $"Open on {Wording.Date(figures.AsOf)}", Columns, () =>
            {
                foreach (var action in actions.Open)
                    Table.Row(html, Columns, $"{action.Id}: {action.What}", action.Owner, Wording.Date(action.Due),
                        ActionWording.Standing(action, figures.AsOf), ActionWording.From(action));
            });
        if (!actions.WithoutEffect.IsEmpty)
        {
            html.Add($"<h3>What did these bring about?</h3><ul class=\"prose\">");
            foreach (var action in actions.WithoutEffect)
                html.Add($"<li>{action.Id}: {action.What} ({action.Owner})</li>");
            html.Add($"</ul>");
        }

        FollowedActions.Write(html, actions);
        html.Add($"<p class=\"sub\">An action is closed with <code>outcomes actions PIPELINE --close ID --on DATE "
            + $"--effect TEXT</code>.</p>");
        MeetingPage.Close(html);
    }
}
