using System.Collections.Immutable;

namespace Outcomes.Measures.Catalogue;

/// <summary>How much attention a flagged record gets; a record belongs to the first of its tiers.</summary>
public enum Tier
{
    /// <summary>Reviewed one by one.</summary>
    One,

    /// <summary>Listed at the monthly meeting.</summary>
    Two,

    /// <summary>Counted as a trend.</summary>
    Three,

    /// <summary>Difficult and clean: to learn from success.</summary>
    Learning,

    /// <summary>The record is doubtful.</summary>
    Data,
}

/// <summary>A condition that brings a record to review where it is true; unknown does not fire.</summary>
/// <param name="Id">Its id, a stable contract: a case names it.</param>
/// <param name="Tier">How much attention the record gets.</param>
/// <param name="When">SQL condition.</param>
public sealed record Flag(string Id, Tier Tier, string When)
{
    public string Title { get; init; } = "";

    /// <summary>The events of harm that it counts as: flags with the same one are counted together.</summary>
    public ImmutableArray<string> Harm { get; init; } = [];

    /// <summary>Fields and columns whose values are printed with the flag.</summary>
    public ImmutableArray<string> Shows { get; init; } = [];

    /// <summary>Ids of the measures that a meeting looks at first where it fired.</summary>
    public ImmutableArray<string> Standards { get; init; } = [];

    public string Why { get; init; } = "";

    public string Source { get; init; } = "";

    public ImmutableArray<FlagExample> Examples { get; init; } = [];

    public string File { get; init; } = "";

    public int Line { get; init; }
}

/// <summary>What a flag says of one record.</summary>
public enum Fired
{
    Fires,
    Clear,

    /// <summary>A field that it needs is missing: it does not fire.</summary>
    Unknown,
}

/// <summary>A made-up record with what the flag must say.</summary>
/// <param name="Given">Field or column names and their values as written; names not given are blank.</param>
/// <param name="Expect">What it must say.</param>
/// <param name="Line">Where it stands, for messages.</param>
public sealed record FlagExample(ImmutableDictionary<string, string> Given, Fired Expect, int Line);
