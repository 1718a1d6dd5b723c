using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>Months of a series from one index to another, both included.</summary>
internal readonly record struct Block(int From, int To)
{
    public Count Sum(ImmutableArray<Count> counts)
    {
        var sum = default(Count);
        for (var i = From; i <= To; i++)
            sum += counts[i];
        return sum;
    }
}

/// <summary>Merges months into blocks from the first on. A block closes on what it holds, never on what follows; months left over at the end wait.</summary>
internal static class Blocks
{
    public static ImmutableArray<Block> Months(int months) => [.. Enumerable.Range(0, months).Select(month => new Block(month, month))];

    /// <summary>Blocks in which the records of every measure (eligible and missing) are none or enough, and of one at least enough.</summary>
    public static ImmutableArray<Block> Grid(ImmutableArray<MeasureSeries> universe, DisclosureRule rule) =>
        Merge(Months(universe[0].Counts.Length), block =>
        {
            long[] records = [.. universe.Select(measure => block.Sum(measure.Counts)).Select(sum => sum.Eligible + sum.Missing)];
            return records.All(rule.Safe) && records.Max() > 0;
        });

    /// <summary>
    /// Blocks of the grid merged until a measure's count is safe and neither met nor not met is none. Were blocks without an event shown and those
    /// with a few not, a rare event would look as if it never happened. As it is a block ends where the rarer answer reaches the
    /// threshold (inverse sampling), which makes its proportion somewhat high.
    /// </summary>
    public static ImmutableArray<Block> Of(ImmutableArray<Count> counts, ImmutableArray<Block> grid, DisclosureRule rule) =>
        Merge(grid, block => block.Sum(counts) is var sum && rule.Safe(sum) && sum.Met > 0 && sum.Met < sum.Eligible);

    /// <summary>
    /// Spans of at least so many months, the same for all measures of a universe: each closes at the first end of a grid block at which half of
    /// the measures that have a block in it end one.
    /// </summary>
    public static ImmutableArray<Block> Spans(ImmutableArray<Block> grid, ImmutableArray<ImmutableArray<Block>> measures, int months) =>
        Merge(grid, span =>
        {
            var ending = measures.Count(blocks => blocks.Any(block => block.To == span.To));
            var within = measures.Count(blocks => blocks.Any(block => block.To >= span.From && block.To <= span.To));
            return span.To - span.From + 1 >= months && ending > 0 && 2 * ending >= within;
        });

    private static ImmutableArray<Block> Merge(ImmutableArray<Block> parts, Func<Block, bool> closes)
    {
        var blocks = ImmutableArray.CreateBuilder<Block>();
        int? from = null;
        foreach (var part in parts)
        {
            var block = new Block(from ?? part.From, part.To);
            if (closes(block))
            {
                blocks.Add(block);
                from = null;
            }
            else
            {
                from = block.From;
            }
        }

        return blocks.ToImmutable();
    }
}
