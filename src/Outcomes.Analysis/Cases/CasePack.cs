using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>What the review meeting works from: the cases of one month, de-identified. It holds no record id.</summary>
public sealed record CasePack
{
    public required string PipelineName { get; init; }

    public required Month Month { get; init; }

    public Audience Audience { get; init; }

    public bool Invented { get; init; }

    public string Version { get; init; } = "";

    /// <summary>What people read in place of the names of fields and values.</summary>
    public Titles Titles { get; init; } = Titles.Shipped;

    /// <summary>The fields: they say which values a page may show.</summary>
    public FieldDictionary Dictionary { get; init; } = FieldDictionary.Shipped;

    /// <summary>Records of the month that were judged.</summary>
    public required int Records { get; init; }

    /// <summary>Every case in order of kind and id; those of tier 3 and of doubtful data have no page.</summary>
    public ImmutableArray<ReviewCase> Cases { get; init; } = [];

    /// <summary>Flags that could not be judged, because fields are not collected.</summary>
    public ImmutableArray<RuleNotRun> NotRun { get; init; } = [];

    /// <summary>How many cases of each kind, in order of kind, kinds without any included.</summary>
    public ImmutableArray<ReviewCount> Counts => [.. Enum.GetValues<CaseKind>().Select(kind =>
        new ReviewCount(kind, Cases.Count(each => each.Kind == kind))
        {
            Late = Cases.Count(each => each.Kind == kind && each.Late is not null)
        })];
}

/// <summary>A signal over time.</summary>
/// <param name="Signal">Its name in the dictionary of traces.</param>
/// <param name="Points">Seconds from induction and value, in order of time; NaN breaks the line.</param>
/// <param name="Thinned">Seconds that a point stands for, as the lowest in them; 0 where every sample is drawn.</param>
public sealed record CaseSignal(string Signal, ImmutableArray<(double Seconds, double Value)> Points, int Thinned);

/// <summary>One case of the pack.</summary>
/// <param name="Id">Its case id.</param>
/// <param name="Kind">Why it is in the pack.</param>
/// <param name="Flags">The flags that fired, the highest tier first.</param>
public sealed record ReviewCase(string Id, CaseKind Kind, ImmutableArray<Flag> Flags)
{
    /// <summary>True where the case gets a page of its own.</summary>
    public bool HasPage { get; init; }

    /// <summary>What of the record a page may print, as recorded, by column; see <see cref="CaseColumns.Shown"/>.</summary>
    public ImmutableDictionary<string, string> Values { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>The attempts in order, fields by name; what is not recorded is absent.</summary>
    public ImmutableArray<ImmutableDictionary<string, string>> Attempts { get; init; } = [];

    /// <summary>Signals of the monitor's trace; empty without one.</summary>
    public ImmutableArray<CaseSignal> Signals { get; init; } = [];

    /// <summary>What the agreed standard expected, and what of it was met.</summary>
    public CaseStandards Standards { get; init; } = CaseStandards.None;

    /// <summary>The month of a record that came late, after that month was reported; null for a record of the pack's month.</summary>
    public Month? Late { get; init; }

    /// <summary>Cases like it in the months before; null where no flag fired or there is no earlier month.</summary>
    public EarlierCases? Earlier { get; init; }
}
