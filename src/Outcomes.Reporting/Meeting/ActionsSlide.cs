using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Meeting;

/// <summary>
/// What earlier meetings decided: open, overdue, and closed without saying what it brought about; and what the last one learned.
/// </summary>
internal static class ActionsSlide
{
    private static readonly TableColumn[] Columns = ["Action", "Owner", "Due", "Stands", "From", "Closed on", "What it brought about"];

    public static void Write(Html html, Figures figures)
    {
        var actions = figures.Actions;
        MeetingPage.Open(html, "open-actions", "Open actions");
        html.Add($"<p>{ActionWording.Sentence(actions)}</p>");
        if (!actions.Open.IsEmpty)
            Table.Write(html, "t-open", $"Open on {Wording.Date(figures.AsOf)}", Columns, () =>
            {
                foreach (var (i, action) in actions.Open.Index())
                    Open(html, i, action, figures.AsOf);
            }, "closing");
        if (!actions.WithoutEffect.IsEmpty)
        {
            html.Add($"<h3>What did these bring about?</h3><ul class=\"prose\">");
            foreach (var action in actions.WithoutEffect)
                html.Add($"<li>{action.Id}: {action.What} ({action.Owner})</li>");
            html.Add($"</ul>");
        }

        FollowedActions.Write(html, actions);
        LearningSection.WriteShort(html, figures);
        html.Add($"<p class=\"sub\">What is closed here is saved with the minutes. Between meetings <code>outcomes actions PIPELINE "
            + $"--close ID --on DATE --effect TEXT</code> closes an action.</p>");
        MeetingPage.Close(html);
    }

    private static void Open(Html html, int i, DepartmentAction action, DateOnly asOf)
    {
        var row = string.Create(CultureInfo.InvariantCulture, $"closing-{i}");
        var opened = action.Opened.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        html.Add($"""<tr data-closing="{action.Id}" data-opened="{opened}"><th scope="row" id="{row}">{action.Id}: {action.What}</th>""");
        foreach (var cell in (string[])
            [action.Owner, Wording.Date(action.Due), ActionWording.Standing(action, asOf), ActionWording.From(action)])
            html.Add($"<td>{cell}</td>");
        html.Add($"""
            <td><input type="date" id="{row}-closed" data-closes="closed" aria-label="Closed on" aria-describedby="{row}"></td>
            <td><input type="text" id="{row}-effect" data-closes="effect" aria-label="What it brought about" aria-describedby="{row}" autocomplete="off"></td></tr>

            """);
    }
}
