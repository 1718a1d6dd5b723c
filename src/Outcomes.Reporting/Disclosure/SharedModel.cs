using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Reporting.Disclosure;

/// <summary>What a report to others says: definitions, and the counts of a release. There is no other number in it.</summary>
public sealed record SharedModel(
    string PipelineName, Month Month, DateOnly AsOf, bool Invented, string Version, string DefinitionsHash,
    ImmutableArray<Assumption> Assumptions, ImmutableArray<Measure> Measures, Release Release)
{
    /// <summary>Ids of measures for which the mapping of no source has the fields.</summary>
    public ImmutableArray<string> NotCollected { get; init; } = [];

    /// <summary>What people read in place of the names of fields and values.</summary>
    public Titles Titles { get; init; } = Titles.Shipped;
}
