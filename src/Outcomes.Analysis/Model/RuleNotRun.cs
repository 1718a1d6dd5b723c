using System.Collections.Immutable;
using Outcomes.Measures;

namespace Outcomes.Analysis;

/// <summary>A consistency rule or flag that could not run on every source.</summary>
/// <param name="Id">The rule or flag.</param>
/// <param name="Lacking">The fields that some source does not collect.</param>
public sealed record RuleNotRun(string Id, ImmutableArray<string> Lacking)
{
    /// <summary>Rules first, then flags.</summary>
    public static ImmutableArray<RuleNotRun> All(DataState data) =>
        [.. Grouped(data.SkippedRules.Select(rule => (rule.Rule, rule.Fields))), .. Flags(data.SkippedFlags)];

    public static IEnumerable<RuleNotRun> Flags(IEnumerable<SkippedFlag> flags) => Grouped(flags.Select(flag => (flag.Flag, flag.Fields)));

    private static IEnumerable<RuleNotRun> Grouped(IEnumerable<(string Id, ImmutableArray<string> Fields)> skipped) => skipped
        .GroupBy(each => each.Id)
        .Select(group => new RuleNotRun(group.Key, [.. group.SelectMany(each => each.Fields).Distinct().Order(StringComparer.Ordinal)]));
}
