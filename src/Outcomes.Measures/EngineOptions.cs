using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Measures;

/// <summary>What the engine needs to know besides the sources.</summary>
public sealed record EngineOptions
{
    /// <summary>The date on which the data are looked at; the column <c>as_of</c> in conditions.</summary>
    public required DateOnly AsOf { get; init; }

    /// <summary>Values that stand in for fields a source does not collect, by field; never for blank cells of a collected one.</summary>
    public ImmutableDictionary<string, string> Assume { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>Every consistency rule: all are judged, and those that blank act on the records that are counted.</summary>
    public ImmutableArray<ConsistencyRule> Rules { get; init; } = [];

    /// <summary>Derived columns; the shipped ones unless told otherwise.</summary>
    public ImmutableArray<DerivedColumn> Derived { get; init; } = DerivedFile.Shipped;

    /// <summary>Absolute paths of the files that <see cref="Engine.Export"/> may write; nothing else can be written.</summary>
    public ImmutableArray<string> Writable { get; init; } = [];

    public int Threads { get; init; } = Math.Max(1, Math.Min(Environment.ProcessorCount, 4));

    public int MemoryLimitMegabytes { get; init; } = 4096;
}
