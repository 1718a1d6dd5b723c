using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>A span of blocks, the measures that are split by a stratum over it, and the levels that stand on their own; the others are one group.</summary>
internal sealed record SharedSpan(Block Span, string Stratum, ImmutableArray<string> Measures, ImmutableArray<string> Levels);

/// <summary>Splits by level over spans of at least twelve months, by the same groups for every measure that is shown throughout.</summary>
internal static class Groups
{
    public const int SpanMonths = 12;

    /// <summary>Spans: runs of blocks of at least twelve months.</summary>
    public static ImmutableArray<Block> Spans(IEnumerable<Block> blocks)
    {
        var spans = ImmutableArray.CreateBuilder<Block>();
        int? from = null;
        foreach (var block in blocks)
        {
            var span = new Block(from ?? block.From, block.To);
            from = span.Months >= SpanMonths ? null : span.From;
            if (from is null) spans.Add(span);
        }

        return spans.ToImmutable();
    }

    /// <param name="measures">Unprotected counts, in order of worth.</param>
    /// <param name="blocks">The blocks that are shown.</param>
    /// <param name="within">The spans of a stricter reader's neighbour that these may merge and not cut; null: any.</param>
    /// <param name="rule">What is enough.</param>
    public static IEnumerable<SharedSpan> Of(ImmutableArray<MeasureSeries> measures, ImmutableArray<SharedBlock> blocks, ImmutableArray<SharedSpan>? within, DisclosureRule rule)
    {
        var ends = within?.Select(each => each.Span).Distinct().ToArray();
        // A span ends where the neighbour's spans end, so that it is made of whole ones.
        var spans = ends is null ? Spans(blocks.Select(each => each.Block)) : Joined(ends, blocks);
        foreach (var span in spans)
            foreach (var stratum in measures.SelectMany(each => each.Levels).Select(level => level.Stratum).Distinct(StringComparer.Ordinal))
            {
                var parts = within?.Where(each => each.Stratum == stratum && span.Holds(each.Span)).ToArray();
                if (parts is not null && parts.Length != ends!.Count(span.Holds)) continue;
                // All of them or none: were one split and a nested one not, the few by which they differ would pin the hidden groups of the other.
                ImmutableArray<MeasureSeries> may = [.. measures.Where(each => blocks.Where(block => span.Holds(block.Block)).All(block => block.Measures.Contains(each.Measure)))];
                if (may.Any(each => each.Levels.All(level => level.Stratum != stratum) || parts?.All(part => part.Measures.Contains(each.Measure)) == false)) continue;
                var levels = may.SelectMany(each => each.Levels).Where(level => level.Stratum == stratum).Select(level => level.Level).Distinct()
                    .Where(level => parts?.All(part => part.Levels.Contains(level)) != false).Order(StringComparer.Ordinal);
                var alone = Alone([.. levels.Select(level => (level, may.Select(each => Sum(each, stratum, level, span)).ToImmutableArray()))], [.. may.Select(each => Sum(each, stratum, null, span))], rule);
                if (alone.Length > 0) yield return new SharedSpan(span, stratum, [.. may.Select(each => each.Measure)], alone);
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

    /// <summary>The counts of a measure in a level over a span; of all levels where none is named.</summary>
    public static Count Sum(MeasureSeries measure, string stratum, string? level, Block span) => measure.Levels
        .Where(each => each.Stratum == stratum && (level is null || each.Level == level)).Aggregate(default(Count), (sum, each) => sum + span.Sum(each.Counts));

    private static ImmutableArray<Block> Joined(Block[] spans, ImmutableArray<SharedBlock> blocks)
    {
        var joined = ImmutableArray.CreateBuilder<Block>();
        int? from = null;
        foreach (var span in spans)
        {
            var wide = new Block(from ?? span.From, span.To);
            var fits = blocks.Any(block => block.Block.From == wide.From) && blocks.Any(block => block.Block.To == wide.To);
            from = fits ? null : wide.From;
            if (fits) joined.Add(wide);
        }

        return joined.ToImmutable();
    }

    private static bool Safe(ImmutableArray<Count> counts, DisclosureRule rule) =>
        counts.Select((count, at) => rule.Safe(count) && rule.Apart(count, counts.Take(at))).All(safe => safe);

    /// <summary>What is left of a count without a part of it.</summary>
    public static Count Less(Count from, Count part) => new(from.Met - part.Met, from.Eligible - part.Eligible, from.Missing - part.Missing);
}
