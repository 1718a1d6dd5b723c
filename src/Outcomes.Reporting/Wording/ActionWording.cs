using Outcomes.Analysis;

namespace Outcomes.Reporting;

/// <summary>Actions in words.</summary>
public static class ActionWording
{
    /// <summary>One sentence for the first page.</summary>
    public static string Sentence(ActionState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        // Asked for until it is given: what nobody looked at afterwards may not have helped.
        var unsaid = state.WithoutEffect.Length switch
        {
            0 => "",
            1 => " One is closed without its effect.",
            var several => $" {Wording.Number(several)} are closed without their effect."
        };
        var open = Open(state);
        if (state.Open.IsEmpty)
            return $"{open}." + unsaid;
        var late = state.Open.Take(state.Overdue)
            .Select(action => $"{action.What} (by {Wording.Some(state.AsOf.DayNumber - action.Due.DayNumber, "day")})");
        return (state.Overdue == 0
            ? $"{open}, none overdue."
            : $"{open}, {Wording.Number(state.Overdue)} overdue: {string.Join("; ", late)}.") + unsaid;
    }

    /// <summary>How many are open, without a full stop: <c>2 actions are open</c>.</summary>
    public static string Open(ActionState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        return state.Open.IsEmpty
            ? "No action is open"
            : $"{Wording.Some(state.Open.Length, "action")} {(state.Open.Length == 1 ? "is" : "are")} open";
    }

    /// <summary>Where an action stands on a date: <c>overdue by 12 days</c>.</summary>
    public static string Standing(DepartmentAction action, DateOnly asOf)
    {
        ArgumentNullException.ThrowIfNull(action);
        var days = asOf.DayNumber - action.Due.DayNumber;
        return days > 0 ? $"overdue by {Wording.Some(days, "day")}"
            : days == 0 ? "due on this day"
            : $"due in {Wording.Some(-days, "day")}";
    }
}
