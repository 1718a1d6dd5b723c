using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>A block that is split by a stratum, for the measures that are shown in it, and the levels that stand on their own; the others are one group.</summary>
internal sealed record SharedSplit(SharedBlock Of, string Stratum, ImmutableArray<string> Levels);

/// <summary>Splits of blocks by level, by the same groups for every measure that is shown in the block.</summary>
internal static class Groups
{
    /// <summary>No split is of fewer months, as on the department's own pages.</summary>
    public const int SpanMonths = 12;

    /// <param name="measures">Unprotected counts, in order of worth.</param>
    /// <param name="blocks">The blocks that are shown.</param>
    /// <param name="within">The splits of a stricter reader's neighbour, whose groups these may merge and not cut; null: any.</param>
    /// <param name="parts">The blocks of that neighbour, which these merge.</param>
    /// <param name="rule">What is enough.</param>
    public static IEnumerable<SharedSplit> Of(
        ImmutableArray<MeasureSeries> measures, ImmutableArray<SharedBlock> blocks, ImmutableArray<SharedSplit>? within, ImmutableArray<SharedBlock> parts, DisclosureRule rule)
    {
        foreach (var block in blocks)
        {
            ImmutableArray<MeasureSeries> shown = [.. measures.Where(each => block.Measures.Contains(each.Measure))];
            foreach (var stratum in shown.SelectMany(each => each.Levels).Select(level => level.Stratum).Distinct(StringComparer.Ordinal))
            {
                // All measures or none: were one split and a nested one not, the few by which they differ would pin the hidden groups of the other.
                if (shown.Any(each => each.Levels.All(level => level.Stratum != stratum))) continue;
                var splits = within?.Where(each => each.Stratum == stratum && block.Block.Holds(each.Of.Block)).ToArray();
                if (splits is not null && splits.Length != parts.Count(each => block.Block.Holds(each.Block))) continue;
                var levels = shown.SelectMany(each => each.Levels).Where(level => level.Stratum == stratum).Select(level => level.Level).Distinct()
                    .Where(level => splits?.All(split => split.Levels.Contains(level)) != false).Order(StringComparer.Ordinal);
                var alone = Alone([.. levels.Select(level => (level, shown.Select(each => Sum(each, stratum, level, block.Block)).ToImmutableArray()))], [.. shown.Select(each => Sum(each, stratum, null, block.Block))], rule);
                if (alone.Length > 0) yield return new SharedSplit(block, stratum, alone);
            }
        }
    }

    /// <summary>The levels that can stand alone with the rest as one group that is safe or empty; none where fewer than two groups would be left.</summary>
    internal static ImmutableArray<string> Alone(ImmutableArray<(string Level, ImmutableArray<Count> Counts)> levels, ImmutableArray<Count> whole, DisclosureRule rule)
    {
        var kept = levels.Where(level => Safe(level.Counts, rule)).ToList();
        while (kept.Count > 0)
        {
            ImmutableArray<Count> rest = [.. whole.Select((sum, at) => kept.Aggregate(sum, (left, level) => Less(left, level.Counts[at])))];
            var none = rest.All(count => count.IsEmpty);
            if (none || Safe(rest, rule)) return kept.Count + (none ? 0 : 1) >= 2 ? [.. kept.Select(level => level.Level)] : [];
            kept.Remove(kept.OrderBy(level => level.Counts[0].Eligible).ThenBy(level => level.Level, StringComparer.Ordinal).First());
        }

        return [];
    }

    /// <summary>The counts of a measure in a level over a block; of all levels where none is named.</summary>
    public static Count Sum(MeasureSeries measure, string stratum, string? level, Block block) => measure.Levels
        .Where(each => each.Stratum == stratum && (level is null || each.Level == level)).Aggregate(default(Count), (sum, each) => sum + block.Sum(each.Counts));

    private static bool Safe(ImmutableArray<Count> counts, DisclosureRule rule) =>
        counts.Select((count, at) => rule.Safe(count) && rule.Apart(count, counts.Take(at))).All(safe => safe);

    /// <summary>What is left of a count without a part of it.</summary>
    public static Count Less(Count from, Count part) => new(from.Met - part.Met, from.Eligible - part.Eligible, from.Missing - part.Missing);
}
