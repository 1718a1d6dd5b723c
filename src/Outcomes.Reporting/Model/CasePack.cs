using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;

namespace Outcomes.Reporting.Model;

/// <summary>What the review meeting works from: the cases of one month, de-identified. It holds no record id.</summary>
public sealed record CasePack
{
    public required string PipelineName { get; init; }

    public required Month Month { get; init; }

    public Audience Audience { get; init; }

    public bool Invented { get; init; }

    public required string Version { get; init; }

    /// <summary>Records of the month that were judged.</summary>
    public required int Records { get; init; }

    /// <summary>Every case in order of kind and id; those of tier 3 and of doubtful data have no page.</summary>
    public ImmutableArray<ReviewCase> Cases { get; init; } = [];

    /// <summary>Flags that could not be judged, because fields are not collected.</summary>
    public ImmutableArray<RuleNotRun> NotRun { get; init; } = [];

    /// <summary>How many cases of each kind, in order of kind, kinds without any included.</summary>
    public ImmutableArray<ReviewCount> Counts => [.. Enum.GetValues<CaseKind>().Select(kind =>
        new ReviewCount(kind, Cases.Count(each => each.Kind == kind)) { Late = Cases.Count(each => each.Kind == kind && each.Late is not null) })];
}

/// <summary>How many new cases of a kind there are.</summary>
public sealed record ReviewCount(CaseKind Kind, int Cases)
{
    /// <summary>How many of them are records of earlier months.</summary>
    public int Late { get; init; }
}

/// <summary>A flag that fired, with the values that made it.</summary>
public sealed record FiredFlag(string Id, string Title, Tier Tier, string Why, ImmutableArray<CaseFact> Values);

/// <summary>A heading and a value, as people read them.</summary>
public sealed record CaseFact(string Title, string Value);

/// <summary>Facts under a heading.</summary>
public sealed record FactGroup(string Title, ImmutableArray<CaseFact> Facts);

/// <summary>An attempt as the record tells it; what is not recorded is empty.</summary>
public sealed record CaseAttempt(string Number, string Plan, string Means, string Operator, string Outcome, string Lowest, string Duration);

/// <summary>A measure that this case met or did not, in the words of its definition.</summary>
public sealed record CaseMeasure(string Title, string Why);

/// <summary>A moment of the procedure.</summary>
/// <param name="Seconds">Seconds from induction.</param>
/// <param name="What">What happened.</param>
public readonly record struct CaseMoment(double Seconds, string What);

/// <summary>A signal over time.</summary>
/// <param name="Title">Its name and unit.</param>
/// <param name="Points">Seconds from induction and value, in order of time; NaN breaks the line.</param>
/// <param name="Thinned">Seconds that a point stands for, as the lowest in them; 0 where every sample is drawn.</param>
public sealed record CaseSignal(string Title, ImmutableArray<(double Seconds, double Value)> Points, int Thinned);

/// <summary>One case of the pack.</summary>
public sealed record ReviewCase(string Id, CaseKind Kind, ImmutableArray<FiredFlag> Flags)
{
    /// <summary>True where the case gets a page of its own.</summary>
    public bool HasPage { get; init; }

    public ImmutableArray<FactGroup> Facts { get; init; } = [];

    public ImmutableArray<CaseAttempt> Attempts { get; init; } = [];

    /// <summary>Plan ladder of the case: each plan and what became of it.</summary>
    public ImmutableArray<CaseFact> Plans { get; init; } = [];

    /// <summary>Moments with a recorded time, in order of time.</summary>
    public ImmutableArray<CaseMoment> Moments { get; init; } = [];

    /// <summary>Signals of the monitor's trace; empty without one.</summary>
    public ImmutableArray<CaseSignal> Signals { get; init; } = [];

    /// <summary>What the agreed standard expected, and what of it was met.</summary>
    public CaseStandards Standards { get; init; } = CaseStandards.None;

    /// <summary>The month of a record that came late, after that month was reported; null for a record of the pack's month.</summary>
    public Month? Late { get; init; }

    /// <summary>Cases like it in the months before; null where no flag fired or there is no earlier month.</summary>
    public EarlierCases? Earlier { get; init; }
}
