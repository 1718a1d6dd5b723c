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
/// Merges months into blocks, the same for all measures, from the first month on. A block closes on what it and earlier blocks hold, never on what follows;
/// months left over at the end wait.
/// </summary>
internal static class Blocks
{
    // A block that has waited so long closes without the measures that are not enough even then.
    private const int Patience = 24;

    public static ImmutableArray<SharedBlock> Months(ImmutableArray<MeasureSeries> measures) =>
        [.. Enumerable.Range(0, measures[0].Counts.Length).Select(month => new SharedBlock(new Block(month, month), [.. measures.Select(each => each.Measure)]))];

    /// <summary>
    /// The first block closes when half of the headline measures are enough, and with it is settled which measures are shown. A later block closes when the
    /// headline measures among them are enough; another measure that is not is shown no more from there on.
    /// </summary>
    /// <param name="measures">Unprotected counts, in order of worth.</param>
    /// <param name="parts">What is merged: months, or the blocks of a stricter reader's neighbour.</param>
    /// <param name="rule">What is enough.</param>
    public static ImmutableArray<SharedBlock> Of(ImmutableArray<MeasureSeries> measures, ImmutableArray<SharedBlock> parts, DisclosureRule rule)
    {
        var headline = measures.Any(each => each.Headline) ? measures.Where(each => each.Headline).ToArray() : [.. measures];
        var blocks = ImmutableArray.CreateBuilder<SharedBlock>();
        ImmutableArray<string>? left = null;
        int? from = null;
        foreach (var part in parts)
        {
            var block = new Block(from ?? part.Block.From, part.Block.To);
            var offered = parts.Where(each => block.Holds(each.Block)).Select(each => each.Measures.AsEnumerable()).Aggregate((all, more) => all.Intersect(more)).ToHashSet();
            var shown = Admit([.. measures.Where(each => (left is null || left.Value.Contains(each.Measure)) && offered.Contains(each.Measure))], block, rule);
            var enough = headline.Count(each => shown.Contains(each.Measure));
            var asked = left is { } now
                ? headline.Count(each => now.Contains(each.Measure))
                : (headline.Count(each => block.Sum(each.Counts) is { } sum && sum.Eligible + sum.Missing > 0) + 1) / 2;
            var closes = shown.Length > 0 && (block.Months >= Patience || (enough > 0 && enough >= asked));
            from = closes ? null : block.From;
            if (!closes) continue;
            blocks.Add(new SharedBlock(block, shown));
            left = shown;
        }

        return blocks.ToImmutable();
    }

    // Neither met nor not met is none: were blocks without an event shown and those with a few not, a rare event would look as if it never happened.
    private static ImmutableArray<string> Admit(ImmutableArray<MeasureSeries> measures, Block block, DisclosureRule rule)
    {
        List<Count> admitted = [];
        var names = ImmutableArray.CreateBuilder<string>();
        foreach (var measure in measures)
            if (block.Sum(measure.Counts) is var sum && sum.Met > 0 && sum.Met < sum.Eligible && rule.Safe(sum) && rule.Apart(sum, admitted))
            {
                admitted.Add(sum);
                names.Add(measure.Measure);
            }

        return names.ToImmutable();
    }
}
