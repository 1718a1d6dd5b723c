using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;

namespace Outcomes.Reporting;

/// <summary>The meeting's agenda and questions in words.</summary>
public static class MeetingWording
{
    /// <summary>What a line of the agenda is about.</summary>
    public static string Name(AgendaItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return item switch
        {
            { Part: AgendaPart.Headline } => "The month in figures",
            { Part: AgendaPart.OpenActions } => "Open actions",
            { Part: AgendaPart.Close } => "New actions read back",
            { Kind: { } kind } => $"{CaseWording.Name(kind)}: {Wording.Some(item.Cases.Length, "case")}",
            _ => "Cases",
        };
    }

    /// <summary>Minutes from the start: <c>0:05 to 0:25</c>.</summary>
    public static string Times(AgendaItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return $"{Clock(item.Start)} to {Clock(item.End)}";
    }

    /// <summary>By what rule the times are set.</summary>
    public static string Rule =>
        $"Times follow one rule: {MeetingAgenda.HeadlineMinutes} minutes for the figures, {MeetingAgenda.ActionMinutes} an open action, "
        + $"{MeetingAgenda.MinutesOf(CaseKind.One)} a case of tier 1, {MeetingAgenda.MinutesOf(CaseKind.Two)} a case of tier 2 "
        + $"(at most {MeetingAgenda.MostOf(CaseKind.Two)}), {MeetingAgenda.MinutesOf(CaseKind.Learning)} a difficult and clean case and "
        + $"{MeetingAgenda.MinutesOf(CaseKind.Drawn)} a case drawn at random (at most {MeetingAgenda.MostOf(CaseKind.Drawn)} of each), "
        + $"{MeetingAgenda.CloseMinutes} to read the new actions back. Where there are more cases, the first by case id are discussed: "
        + "ids are random, so nobody chooses.";

    /// <summary>How long it all takes, and what to do where that is too long.</summary>
    public static string Length(MeetingAgenda agenda)
    {
        ArgumentNullException.ThrowIfNull(agenda);
        var isLong = agenda.Total > MeetingAgenda.LongMinutes;
        return $"{Wording.Some(agenda.Total, "minute")} in all."
            + (isLong
                ? $" That is more than {MeetingAgenda.LongMinutes}: keep tier 1 in this meeting and hold a second one for the rest."
                : "");
    }

    /// <summary>The cases that have a page and no time; empty where there is none.</summary>
    public static string NotDiscussed(int cases) => cases == 0 ? ""
        : $"{Wording.Some(cases, "more case")} {(cases == 1 ? "is" : "are")} listed without a time; "
            + $"anyone may ask for {(cases == 1 ? "it" : "one")}.";

    /// <summary>What the agreed standards ask of a case, one question an answer.</summary>
    public static IEnumerable<string> Questions(CaseKind kind, CaseStandards standards)
    {
        ArgumentNullException.ThrowIfNull(standards);
        if (kind == CaseKind.Learning)
            yield return "What made it go well, and how can the next team have it too?";
        if (kind == CaseKind.Drawn)
            yield return "Is there anything here that the flags miss?";
        foreach (var asked in standards.Expected)
            yield return asked.Measure.Direction == Direction.Down
                ? $"{asked.Measure.Title}: what would have prevented it, or made it less?"
                : $"{asked.Measure.Title}: not met. What stood in the way?";
        foreach (var asked in standards.NotRecorded)
            yield return $"{asked.Measure.Title}: not recorded. What happened, and who records it next time?";
        if (kind is CaseKind.One or CaseKind.Two)
            yield return "What would help the next team in the same place?";
    }

    /// <summary>What the pages of a meeting are for, and what they are not for.</summary>
    public const string Caution =
        "For learning and improvement. Not a medical device, not for bedside decisions, not for judging an individual. "
            + "A flag says that a case is worth a look, not that care was wrong. Local policy, local information governance and licensed "
            + "clinical judgement come first.";

    /// <summary>What must not be entered, and where entries stay.</summary>
    public const string Entering =
        "Write roles, never names, dates of birth or hospital numbers, of patients or of staff. What you enter stays in this page until "
            + "you save it as a file; the page sends nothing anywhere and forgets everything when it is closed.";

    private static string Clock(int minutes) => $"{minutes / 60}:{minutes % 60:D2}";
}
