using System.Collections.Immutable;

namespace Outcomes.Measures;

/// <summary>Counts by measure, month, stratum and level; only cells that are not empty.</summary>
/// <param name="Rows">In the order of measures and strata as asked, then level, then month.</param>
/// <param name="NotCollected">What could not be counted, and why.</param>
/// <param name="Assumptions">What rests on an assumption.</param>
/// <param name="StrataNotCollected">Strata left out because no source collects them.</param>
public sealed record CountResult(ImmutableArray<CountRow> Rows, ImmutableArray<NotCollected> NotCollected,
    ImmutableArray<RestsOnAssumption> Assumptions, ImmutableArray<string> StrataNotCollected)
{
    /// <summary>Ids of measures for which the mapping of no source has the fields, whatever rows there are.</summary>
    public ImmutableArray<string> Uncollected { get; init; } = [];
}
