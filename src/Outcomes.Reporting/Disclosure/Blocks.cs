using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>Months of a series from one index to another, both included.</summary>
internal readonly record struct Block(int From, int To)
{
    public int Months => To - From + 1;

    public bool Holds(Block other) => From <= other.From && other.To <= To;

    public Count Sum(ImmutableArray<Count> counts)
    {
        var sum = default(Count);
        for (var i = From; i <= To; i++)
            sum += counts[i];
        return sum;
    }
}

/// <summary>A block, and the measures that are shown in it.</summary>
internal sealed record SharedBlock(Block Block, ImmutableArray<string> Measures);

/// <summary>
/// Merges months into blocks, the same for all measures, from the first month on. A block closes on what it and earlier blocks hold, never
/// on what follows; months left over at the end wait.
/// </summary>
internal static class Blocks
{
    // So long a block waits until missing records, and those who belong to one measure and not to another, are no small number; then it
    // closes with a gap for that measure.
    private const int Wait = 6;

    // So long it waits for headline measures with too few met or not met; then they are shown no more.
    private const int LongWait = 24;

    public static ImmutableArray<SharedBlock> Months(ImmutableArray<MeasureSeries> measures) =>
        [.. Enumerable.Range(0, measures[0].Counts.Length)
            .Select(month => new SharedBlock(new Block(month, month), [.. measures.Select(each => each.Measure)]))];

    /// <summary>
    /// The first block closes when met and not met of half of the headline measures are enough, and with it is settled which measures are
    /// shown. A later block closes when those of the headline measures among them are; another measure whose are not is shown no more from
    /// there on, since to show it only where it was frequent would mislead.
    /// </summary>
    /// <param name="measures">Unprotected counts, in order of worth.</param>
    /// <param name="parts">What is merged: months, or the blocks of a stricter reader's neighbour.</param>
    /// <param name="rule">What is enough.</param>
    /// <remarks>Where anything is to be split by a stratum, no block is shorter than a split: blocks that cross groups leave a hidden cell
    /// less room than each alone.</remarks>
    public static ImmutableArray<SharedBlock> Of(
        ImmutableArray<MeasureSeries> measures, ImmutableArray<SharedBlock> parts, DisclosureRule rule)
    {
        var least = measures.All(each => each.Levels.IsEmpty) ? 1 : Groups.SpanMonths;
        var headline = measures.Any(each => each.Headline) ? measures.Where(each => each.Headline).ToArray() : [.. measures];
        var blocks = ImmutableArray.CreateBuilder<SharedBlock>();
        ImmutableArray<string>? left = null;
        int? from = null;
        foreach (var part in parts)
        {
            var block = new Block(from ?? part.Block.From, part.Block.To);
            var offered = parts.Where(each => block.Holds(each.Block)).Select(each => each.Measures.AsEnumerable())
                .Aggregate((all, more) => all.Intersect(more)).ToHashSet();
            ImmutableArray<MeasureSeries> enough =
                [.. measures.Where(each => (left is null || left.Value.Contains(each.Measure)) && Enough(block.Sum(each.Counts), rule))];
            var shown = Admit([.. enough.Where(each => offered.Contains(each.Measure))], block, rule);
            var ready = headline.Count(enough.Contains);
            var asked = left is { } now
                ? headline.Count(each => now.Contains(each.Measure))
                : (headline.Count(each => block.Sum(each.Counts) is { } sum && sum.Eligible + sum.Missing > 0) + 1) / 2;
            var settled = ready > 0 && ready >= asked
                && (block.Months >= Wait || headline.Where(enough.Contains).All(each => shown.Contains(each.Measure)));
            var closes = block.Months >= least && shown.Length > 0 && (settled || block.Months >= LongWait);
            from = closes ? null : block.From;
            if (!closes) continue;
            blocks.Add(new SharedBlock(block, shown));
            left = [.. enough.Select(each => each.Measure)];
        }

        return blocks.ToImmutable();
    }

    // Neither met nor not met is none: were blocks without an event shown and those with a few not, a rare event would look as if
    // it never happened.
    private static bool Enough(Count sum, DisclosureRule rule) => sum.Met >= rule.Threshold && sum.Eligible - sum.Met >= rule.Threshold;

    private static ImmutableArray<string> Admit(ImmutableArray<MeasureSeries> measures, Block block, DisclosureRule rule)
    {
        List<Count> admitted = [];
        var names = ImmutableArray.CreateBuilder<string>();
        foreach (var measure in measures)
            if (block.Sum(measure.Counts) is var sum && rule.Safe(sum) && rule.Apart(sum, admitted))
            {
                admitted.Add(sum);
                names.Add(measure.Measure);
            }

        return names.ToImmutable();
    }
}
