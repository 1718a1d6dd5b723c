using System.Collections.Immutable;

namespace Outcomes.Measures;

/// <summary>A rule that was not judged in a source that does not collect some of its fields.</summary>
public sealed record SkippedRule(string Rule, string Source, ImmutableArray<string> Fields);

/// <summary>A flag that was not judged in a source that does not collect some of its fields.</summary>
public sealed record SkippedFlag(string Flag, string Source, ImmutableArray<string> Fields);
