using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>A block that is split by a stratum, and the levels that stand on their own; the others are one group.</summary>
internal sealed record SharedSplit(Block Of, string Stratum, ImmutableArray<string> Levels);

/// <summary>Splits of blocks by level, by the same groups for every measure that is shown in the block.</summary>
internal static class Groups
{
    /// <summary>No split is of fewer months, as on the department's own pages.</summary>
    public const int SpanMonths = 12;

    /// <summary>
    /// The splits of every block, and the blocks with the measures that may stand beside them. All of these are split or none: were one
    /// split and a nested one not, the few by which they differ would pin the hidden groups of the other. Headline measures settle the
    /// groups; another measure that is small in one of them is hidden in that block.
    /// </summary>
    /// <param name="measures">Unprotected counts, in order of worth.</param>
    /// <param name="blocks">The blocks that are shown.</param>
    /// <param name="within">The splits of a stricter reader's neighbour, whose groups these may merge and not cut; null: any.</param>
    /// <param name="parts">The blocks of that neighbour, which these merge.</param>
    /// <param name="rule">What is enough.</param>
    public static (ImmutableArray<SharedBlock> Blocks, ImmutableArray<SharedSplit> Splits) Of(
        ImmutableArray<MeasureSeries> measures, ImmutableArray<SharedBlock> blocks, ImmutableArray<SharedSplit>? within,
        ImmutableArray<SharedBlock> parts, DisclosureRule rule)
    {
        var splits = ImmutableArray.CreateBuilder<SharedSplit>();
        var kept = ImmutableArray.CreateBuilder<SharedBlock>();
        foreach (var (block, names) in blocks)
        {
            MeasureSeries[] shown = [.. measures.Where(each => names.Contains(each.Measure))];
            MeasureSeries[] headline = shown.Any(each => each.Headline) ? [.. shown.Where(each => each.Headline)] : shown;
            List<SharedSplit> own = [];
            foreach (var stratum in headline.SelectMany(each => each.Levels).Select(level => level.Stratum)
                .Distinct(StringComparer.Ordinal))
            {
                var theirs = within?.Where(each => each.Stratum == stratum && block.Holds(each.Of)).ToArray();
                if (theirs is not null && theirs.Length != parts.Count(each => block.Holds(each.Block))) continue;
                var levels = headline.SelectMany(each => each.Levels).Where(level => level.Stratum == stratum)
                    .Select(level => level.Level).Distinct()
                    .Where(level => theirs?.All(split => split.Levels.Contains(level)) != false).Order(StringComparer.Ordinal);
                var alone = Alone([.. levels.Select(level => (level, Counts(headline, stratum, level, block)))],
                    Counts(headline, stratum, null, block), rule);
                if (alone.Length > 0) own.Add(new SharedSplit(block, stratum, alone));
            }

            splits.AddRange(own);
            List<MeasureSeries> beside = [.. headline];
            foreach (var measure in shown.Except(headline))
                if (own.All(split => Fits(split, [.. beside, measure], rule)))
                    beside.Add(measure);
            kept.Add(new SharedBlock(block, [.. names.Where(name => beside.Any(each => each.Measure == name))]));
        }

        return (kept.ToImmutable(), splits.ToImmutable());
    }

    private static ImmutableArray<Count> Counts(IEnumerable<MeasureSeries> measures, string stratum, string? level, Block block) =>
        [.. measures.Select(each => Sum(each, stratum, level, block))];

    private static bool Fits(SharedSplit split, MeasureSeries[] measures, DisclosureRule rule)
    {
        var levels = split.Levels.Select(level => Counts(measures, split.Stratum, level, split.Of)).ToArray();
        ImmutableArray<Count> rest = [.. Counts(measures, split.Stratum, null, split.Of)
            .Select((sum, at) => levels.Aggregate(sum, (left, level) => Less(left, level[at])))];
        return levels.All(level => Safe(level, rule)) && (rest.All(count => count.IsEmpty) || Safe(rest, rule));
    }

    /// <summary>
    /// The levels that can stand alone with the rest as one group that is safe or empty; none where fewer than two groups would be left.
    /// </summary>
    internal static ImmutableArray<string> Alone(
        ImmutableArray<(string Level, ImmutableArray<Count> Counts)> levels, ImmutableArray<Count> whole, DisclosureRule rule)
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
        .Where(each => each.Stratum == stratum && (level is null || each.Level == level))
        .Aggregate(default(Count), (sum, each) => sum + block.Sum(each.Counts));

    private static bool Safe(ImmutableArray<Count> counts, DisclosureRule rule) =>
        counts.Select((count, at) => rule.Safe(count) && rule.Apart(count, counts.Take(at))).All(safe => safe);

    /// <summary>What is left of a count without a part of it.</summary>
    public static Count Less(Count from, Count part) =>
        new(from.Met - part.Met, from.Eligible - part.Eligible, from.Missing - part.Missing);
}
