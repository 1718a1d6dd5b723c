using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>The counts of one level of a stratum, a month each.</summary>
public sealed record LevelSeries(string Stratum, string Level, ImmutableArray<Count> Counts);

/// <summary>The unprotected counts of one measure.</summary>
/// <param name="Measure">Its id.</param>
/// <param name="Headline">Whether it settles the groups of a split.</param>
/// <param name="Counts">All records, a month each.</param>
/// <param name="Levels">The levels of every stratum; those of one stratum sum to <paramref name="Counts"/>.</param>
public sealed record MeasureSeries(string Measure, bool Headline, ImmutableArray<Count> Counts, ImmutableArray<LevelSeries> Levels)
{
    /// <summary>Tells one definition of the measure from another; empty where that is not known.</summary>
    public string Definition { get; init; } = "";
}

/// <summary>Why a count stands in a release.</summary>
public enum CellKind
{
    /// <summary>A period that no other one overlaps.</summary>
    Block,

    /// <summary>The sum of all periods, where none is left out between them.</summary>
    Total,

    /// <summary>The sum of the last periods that make up at least 12 months, or of all where they are fewer.</summary>
    Recent,
}

/// <summary>A protected count: safe on its own and rounded where the rule says so.</summary>
public sealed record ReleasedCell(string Measure, Month From, Month To, string Stratum, string Level, Count Count, CellKind Kind)
{
    /// <summary>
    /// The estimate of the protected count: nothing behind the protection sees another number. Null where none was eligible.
    /// </summary>
    public Estimate? Estimate => Proportion.Estimate(Count);

    /// <summary>True for all records, false for a level of a stratum.</summary>
    public bool IsWhole => Stratum == CountRow.All;
}

/// <summary>A count of a period that an earlier release showed, or that the department keeps with it.</summary>
public sealed record EarlierCell(string Measure, Month From, Month To, string Stratum, string Level, Count Count)
{
    /// <summary>False where only the rounded count is known.</summary>
    public bool Exact { get; init; } = true;

    /// <summary>
    /// False for a count as it was when the period was first shown to anyone, hidden ones included: what other readers are shown of the
    /// period later is made from it.
    /// </summary>
    public bool Shown { get; init; } = true;
}

/// <summary>An earlier release.</summary>
/// <param name="Audience">For whom it was.</param>
/// <param name="SameRecords">True where it was made from the sources of this run; false where they share some of them.</param>
/// <param name="Asked">The measures that it could have shown, with their definitions; empty where that is not known.</param>
/// <param name="Cells">The counts of its periods.</param>
public sealed record EarlierRelease(
    Audience Audience, bool SameRecords, ImmutableDictionary<string, string> Asked, ImmutableArray<EarlierCell> Cells)
{
    /// <summary>
    /// Its last month: of a period until then that is not among its counts it showed nothing. Null where that is not known.
    /// </summary>
    public Month? Through { get; init; }

    /// <summary>True unless the release is known to have used another definition of the measure.</summary>
    public bool Means(MeasureSeries measure) =>
        Asked.IsEmpty || (Asked.TryGetValue(measure.Measure, out var definition)
            && (definition.Length == 0 || measure.Definition.Length == 0 || definition == measure.Definition));
}

/// <summary>
/// What may leave the department: everything that is written for a network or the public is made from this and from nothing else.
/// Numbers that are hidden are not in it, nor why they are.
/// </summary>
/// <param name="Rule">The rule it was made by.</param>
/// <param name="Periods">The timetable that it was made by.</param>
/// <param name="Cells">Its counts, in the order of measures as given.</param>
public sealed record Release(DisclosureRule Rule, Timetable Periods, ImmutableArray<ReleasedCell> Cells);

/// <summary>A release, and what the department notes of it for the releases that follow.</summary>
/// <param name="Shown">What leaves the department.</param>
/// <param name="Noted">The counts of its periods before rounding, hidden ones included: they stay in the department.</param>
public sealed record ProtectedCounts(Release Shown, ImmutableArray<EarlierCell> Noted);
