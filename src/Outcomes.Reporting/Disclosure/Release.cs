using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>The counts of one level of a stratum, a month each.</summary>
public sealed record LevelSeries(string Stratum, string Level, ImmutableArray<Count> Counts);

/// <summary>The unprotected counts of one measure.</summary>
/// <param name="Measure">Its id.</param>
/// <param name="Headline">Whether months wait for it.</param>
/// <param name="Counts">All records, a month each.</param>
/// <param name="Levels">The levels of every stratum; those of one stratum sum to <paramref name="Counts"/>.</param>
public sealed record MeasureSeries(string Measure, bool Headline, ImmutableArray<Count> Counts, ImmutableArray<LevelSeries> Levels);

/// <summary>Why a count stands in a release.</summary>
public enum CellKind
{
    /// <summary>A run of months that no other block of the measure overlaps.</summary>
    Block,

    /// <summary>The sum of all blocks, where none is left out between them.</summary>
    Total,

    /// <summary>The sum of the last blocks that make up at least 12 months, or of all where they are fewer.</summary>
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

/// <summary>A measure that this release leaves out, and why.</summary>
public sealed record Withheld(string Measure, WithheldReason Reason);

public enum WithheldReason
{
    /// <summary>No run of months is safe to show.</summary>
    SmallNumbers,

    /// <summary>Its difference from an earlier release would be a small number, or its periods no longer fit that release.</summary>
    Difference,
}

/// <summary>A count as an earlier release showed it.</summary>
public readonly record struct EarlierCell(string Measure, Month From, Month To, string Stratum, string Level, Count Count);

/// <summary>
/// What may leave the department: everything that is written for a network or the public is made from this and from nothing else.
/// Numbers that are hidden are not in it.
/// </summary>
/// <param name="Rule">The rule it was made by.</param>
/// <param name="Cells">Its counts, in the order of measures as given.</param>
/// <param name="Withheld">Measures without any.</param>
/// <param name="Compared">Earlier releases that it was compared with; 0: differences from earlier releases were not checked.</param>
public sealed record Release(DisclosureRule Rule, ImmutableArray<ReleasedCell> Cells, ImmutableArray<Withheld> Withheld, int Compared);
