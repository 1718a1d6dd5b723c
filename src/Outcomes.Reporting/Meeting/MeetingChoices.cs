using System.Collections.Immutable;

namespace Outcomes.Reporting.Meeting;

/// <summary>One answer of a closed question: as minutes hold it, and as people read it.</summary>
public sealed record Choice(string Code, string Title);

/// <summary>The closed questions of a meeting's page, the same for the page that asks and for the minutes that are read back.</summary>
public static class MeetingChoices
{
    /// <summary>The eight heads of what contributed.</summary>
    public static ImmutableArray<Choice> Heads { get; } =
    [
        new("patient", "Patient"), new("task", "Task"), new("person", "Person"), new("team", "Team"), new("equipment", "Equipment"),
        new("place", "Place"), new("organisation", "Organisation"), new("outside", "Outside"),
    ];

    /// <summary>Harm as the meeting judges it; the words are those of the dictionary's <c>harm_level</c>.</summary>
    public static ImmutableArray<Choice> Harm { get; } =
        [new("none", "None"), new("low", "Low"), new("moderate", "Moderate"), new("severe", "Severe"), new("death", "Death")];

    /// <summary>Whether patient or family were told.</summary>
    public static ImmutableArray<Choice> Candour { get; } =
        [new("not_needed", "Not needed"), new("done", "Done"), new("to_do", "Still to be done")];

    /// <summary>What becomes of the case.</summary>
    public static ImmutableArray<Choice> Dispositions { get; } =
    [
        new("teach", "Teach"), new("change_system", "Change the system"), new("pass_on", "Pass on"), new("nothing_more", "Nothing more"),
    ];

    /// <summary>Roles of those present. Roles and numbers alone: minutes name nobody.</summary>
    public static ImmutableArray<Choice> Roles { get; } =
    [
        new("anaesthesia", "Anaesthesia"), new("intensive_care", "Intensive care"), new("emergency_medicine", "Emergency medicine"),
        new("nursing", "Nursing"), new("theatre_practitioner", "Theatre practitioners"), new("paramedic", "Paramedics"),
        new("management", "Management"), new("student", "Students"), new("other", "Others"),
    ];
}
