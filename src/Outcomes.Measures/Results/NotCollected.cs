using System.Collections.Immutable;

namespace Outcomes.Measures;

/// <summary>A measure that has no figures from a source, and the fields that source would have to collect.</summary>
public sealed record NotCollected(string Measure, string Source, ImmutableArray<string> Fields);

/// <summary>A measure whose figures from a source rest on assumptions about fields it does not collect.</summary>
public sealed record RestsOnAssumption(string Measure, string Source, ImmutableArray<string> Fields);
