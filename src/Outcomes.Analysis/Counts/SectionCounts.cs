using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>What was counted for a section.</summary>
/// <param name="From">First month.</param>
/// <param name="Counts">Its proportions by the fields that it splits by.</param>
/// <param name="Values">Its quantities by the same fields.</param>
/// <param name="Halves">Its compared measures among the records of each half, by the fields within whose levels they are compared.</param>
public sealed record SectionCounts(Month From, CountResult Counts, ValueResult Values, CountResult Halves)
{
    /// <summary>Fields to split by that the dictionary of this run has.</summary>
    public ImmutableArray<string> Fields { get; init; } = [];

    /// <summary>Fields to compare within that the dictionary of this run has.</summary>
    public ImmutableArray<string> Within { get; init; } = [];
}
