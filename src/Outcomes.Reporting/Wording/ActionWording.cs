using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Statistics;

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

    /// <summary>Where an action can stand, as tables say it.</summary>
    public static IReadOnlyList<string> States { get; } = ["not_yet", "open", "overdue", "closed", "closed_without_effect"];

    /// <summary>Where an action stands on a date, as tables say it.</summary>
    public static string State(DepartmentAction action, DateOnly asOf)
    {
        ArgumentNullException.ThrowIfNull(action);
        return action.Opened > asOf ? "not_yet"
            : action.OverdueAt(asOf) ? "overdue"
            : action.OpenAt(asOf) ? "open"
            : string.IsNullOrWhiteSpace(action.Effect) ? "closed_without_effect" : "closed";
    }

    /// <summary>Where an action came from: the cases, or nothing.</summary>
    public static string From(DepartmentAction action)
    {
        ArgumentNullException.ThrowIfNull(action);
        return action.Cases.Length switch
        {
            0 => "",
            1 => $"case {action.Cases[0]}",
            _ => $"cases {string.Join(", ", action.Cases)}",
        };
    }

    /// <summary>What the counts before and after an action are, and are not.</summary>
    public static string FollowedTitle =>
        $"The measures of these actions, {ActionFollowUp.Months} months before and after: for context, no verdict";

    /// <summary>An action with the id by which it is closed.</summary>
    public static string Named(DepartmentAction action)
    {
        ArgumentNullException.ThrowIfNull(action);
        return $"{action.Id}: {action.What}";
    }

    /// <summary>What stands above the learning points of the last meeting.</summary>
    public const string LearningTitle = "What the last meeting learned";

    /// <summary>Which meeting it was, and how many of its points are not shown.</summary>
    public static string Learned(MeetingLearning learning, int most)
    {
        ArgumentNullException.ThrowIfNull(learning);
        return $"The meeting of {Wording.Date(learning.Held)}, about {Wording.Name(learning.Month)}, wrote "
            + $"{Wording.Some(learning.Points.Length, "learning point")}"
            + (learning.Points.Length > most ? $"; the first {Wording.Number(most)} are shown. Its minutes have the rest." : ".");
    }

    /// <summary>Why a difference before and after an action shows nothing by itself.</summary>
    public const string FollowedCaution = "Months that stand out are followed by usual ones, with or without an action.";

    /// <summary>One side of an action, as counts: <c>31/42 in July 2025 to December 2025</c>.</summary>
    public static string Side((Month From, Month To)? span, Count count)
    {
        if (span is not var (from, to))
            return "no whole month";
        var months = to.MonthsSince(from) + 1;
        return (count.Eligible == 0 ? "none eligible" : Wording.Fraction(count)) + $" in {Wording.Span(from, to)}"
            + (months < ActionFollowUp.Months ? $" ({Wording.Some(months, "month")})" : "")
            + (count.Missing > 0 ? $"; {Wording.Number(count.Missing)} missing" : "");
    }
}
