using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>
/// The measures of actions before they were decided and after they were closed: counts and their difference, for context,
/// without a verdict.
/// </summary>
internal static class FollowedActions
{
    private static readonly TableColumn[] Columns =
        ["Action", "Measure", "Before it was decided", "After it was closed", "Difference (95 % interval)", "Should move by"];

    public static void Write(Html html, ActionState actions)
    {
        if (actions.Followed.IsEmpty)
            return;
        Table.Write(html, "t-followed", ActionWording.FollowedTitle, Columns, () =>
        {
            foreach (var each in actions.Followed)
                Table.Row(html, Columns, each.Action.What, each.Measure.Title, ActionWording.Side(each.Before, each.BeforeCount),
                    each.Action.Closed is null ? "open" : ActionWording.Side(each.After, each.AfterCount),
                    each.Difference is { } difference ? ChangeWording.Difference(difference) : "",
                    each.Action.MeasureBy is { } by ? Wording.Date(by) : "");
        }, "wordy");
        if (actions.Followed.Any(each => each.Difference is not null))
            html.Add($"<p>{ActionWording.FollowedCaution}</p>");
    }
}
