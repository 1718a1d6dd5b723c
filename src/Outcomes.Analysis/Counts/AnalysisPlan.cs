using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>The events to adjust for case mix, and by which fields.</summary>
/// <param name="Measures">Ids of proportions, in the order of printing.</param>
/// <param name="Given">Fields and derived columns that describe the case mix.</param>
/// <param name="Shipped">True where the fields are the tool's own list, of which as many are used as the events allow.</param>
public sealed record CaseMixPlan(ImmutableArray<string> Measures, ImmutableArray<string> Given, bool Shipped)
{
    /// <summary>Whether an additive model is compared with the one that is used.</summary>
    public bool Challenger { get; init; }
}

/// <summary>What is asked of a department's counts: definitions, settings, and the month that the report is about.</summary>
public sealed record AnalysisPlan
{
    /// <summary>The pipeline's name.</summary>
    public required string Name { get; init; }

    public required DefinitionSet Definitions { get; init; }

    /// <summary>What people read in place of the names of fields and values.</summary>
    public Titles Titles => field ??= Titles.Of(Definitions);

    /// <summary>The report month.</summary>
    public required Month Month { get; init; }

    /// <summary>How many months, the report month the last of them, its figures look at: 12 but for a question about others.</summary>
    public int Months { get; init; } = 12;

    /// <summary>The date on which the data are looked at: a month that is not over by then is partial.</summary>
    public required DateOnly AsOf { get; init; }

    /// <summary>Ids of the headline measures, in the order of printing.</summary>
    public ImmutableArray<string> Headline { get; init; } = [];

    /// <summary>Fields and derived columns to split every measure by.</summary>
    public ImmutableArray<string> Strata { get; init; } = [];

    /// <summary>First month and length of the declared baseline; null stands for the first 12 months.</summary>
    public (Month From, int Months)? Baseline { get; init; }

    /// <summary>True where the whole period is its own baseline.</summary>
    public bool WholeBaseline { get; init; }

    /// <summary>How much evidence a change signal needs.</summary>
    public Pace Pace { get; init; } = Pace.Default;

    /// <summary>What the department declares to have changed, by date.</summary>
    public ImmutableArray<DeclaredChange> Changes { get; init; } = [];

    /// <summary>What review meetings decided.</summary>
    public ImmutableArray<DepartmentAction> Actions { get; init; } = [];

    /// <summary>What review meetings learned.</summary>
    public ImmutableArray<MeetingLearning> Learning { get; init; } = [];

    /// <summary>Months to a point of every run chart; null lets the volume decide.</summary>
    public PointSpan? Span { get; init; }

    /// <summary>What is adjusted for case mix; null for nothing.</summary>
    public CaseMixPlan? CaseMix { get; init; }

    /// <summary>Values of fields that a source does not collect, taken as given for every record of it.</summary>
    public ImmutableDictionary<string, string> Assume { get; init; } = ImmutableDictionary<string, string>.Empty;

    public Audience Audience { get; init; }

    /// <summary>True where the records are invented.</summary>
    public bool Invented { get; init; }

    /// <summary>Every field and derived column that something is counted by.</summary>
    public IEnumerable<string> CountedBy => Strata.Concat(Definitions.Sections.SelectMany(section => section.Strata))
        .Concat(CaseMix?.Given ?? []);

    /// <summary>True for a headline measure.</summary>
    public bool IsHeadline(Measure measure)
    {
        ArgumentNullException.ThrowIfNull(measure);
        return Headline.Contains(measure.Id);
    }

    /// <summary>The declared changes that meant a measure.</summary>
    public ImmutableArray<DeclaredChange> ChangesOf(Measure measure)
    {
        ArgumentNullException.ThrowIfNull(measure);
        return [.. Changes.Where(change => change.Measures.Contains(measure.Id))];
    }

    /// <summary>The declared baseline, or the first 12 months, cut off at the report month.</summary>
    /// <param name="first">The first month of the records.</param>
    public (Month From, Month To) BaselineMonths(Month first)
    {
        if (WholeBaseline)
            return (first, Month);
        var (from, months) = Baseline ?? (first, 12);
        var to = from.AddMonths(months - 1);
        return (from, to < Month ? to : Month);
    }
}
