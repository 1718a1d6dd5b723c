using System.Collections.Immutable;

namespace Outcomes.Analysis;

/// <summary>What the pipeline states about every record of a source that does not collect the field.</summary>
public sealed record Assumption(string Field, string Value)
{
    /// <summary>All of a plan, by field.</summary>
    public static ImmutableArray<Assumption> All(AnalysisPlan plan) =>
        [.. plan.Assume.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => new Assumption(pair.Key, pair.Value))];
}
