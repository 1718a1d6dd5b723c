using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>A condition that should hold of every record. Unknown is no breach.</summary>
/// <param name="Id">Its id, a stable contract: findings name it.</param>
/// <param name="Expect">SQL condition that should hold.</param>
/// <param name="Severity">What a breach does.</param>
public sealed record ConsistencyRule(string Id, string Expect, Severity Severity)
{
    public string Title { get; init; } = "";

    /// <summary>The fields that become missing in a record that breaks it; never one that names an event.</summary>
    public ImmutableArray<string> Blanks { get; init; } = [];

    public string Why { get; init; } = "";

    public string Source { get; init; } = "";

    public ImmutableArray<RuleExample> Examples { get; init; } = [];

    public string File { get; init; } = "";

    public int Line { get; init; }
}

/// <summary>What a rule says of one record.</summary>
public enum RuleOutcome
{
    Holds,
    Broken,

    /// <summary>A field that it needs is missing: no breach.</summary>
    Unknown,
}

/// <summary>A made-up record with the verdict that the rule must give.</summary>
/// <param name="Given">Field or column names and their values as written; names not given are blank.</param>
/// <param name="Expect">The verdict.</param>
/// <param name="Line">Where it stands, for messages.</param>
public sealed record RuleExample(ImmutableDictionary<string, string> Given, RuleOutcome Expect, int Line);
