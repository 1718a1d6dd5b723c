using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>
/// Disclosure control by merging. Months are merged into blocks, the same for all measures, until a block is safe to show, levels into
/// <c>(other)</c> until what is left is safe; whatever is not yet safe is left out of every total. A block depends on its own and earlier
/// months only: next month's release repeats it, so two releases differ by whole safe blocks.
/// <para>
/// Why it holds: every count that is shown, of whatever measure, is of whole blocks, or of whole groups of the levels of one block, the
/// same groups for all measures that are shown in it. Within one of them records can change places freely, in all measures at once, and
/// every count that is shown stays as it is, however the measures are nested. So a hidden part of it can be anything from none to all of
/// it, and all of it is at least the threshold, or none. What is left are measures that are not shown: who belongs to one measure and not
/// to another is none or at least the threshold too, and what is missing has twice the room, for measures share their fields
/// (docs/decisions/0024-merged-blocks.md).
/// </para>
/// <para>
/// A public release merges the blocks and groups of the one for a network and rounds: who holds both learns nothing from the second.
/// </para>
/// </summary>
public static class Protect
{
    /// <summary>The merged levels.</summary>
    public const string Other = "(other)";

    /// <summary>The counts that may be shown.</summary>
    /// <param name="measures">Unprotected counts, each over the same months, in order of worth.</param>
    /// <param name="first">The month of the first count.</param>
    /// <param name="rule">Thresholds and rounding.</param>
    /// <param name="earlier">Earlier releases, each with the counts that it showed.</param>
    public static Release Of(
        ImmutableArray<MeasureSeries> measures, Month first, DisclosureRule rule, ImmutableArray<ImmutableArray<EarlierCell>> earlier)
        => Of(measures, first, rule, earlier, merging: true);

    /// <summary>
    /// With <paramref name="merging"/> off only small cells themselves are hidden, as a careless release would: for tests of the attack.
    /// </summary>
    internal static Release Of(ImmutableArray<MeasureSeries> measures, Month first, DisclosureRule rule,
        ImmutableArray<ImmutableArray<EarlierCell>> earlier, bool merging)
    {
        ArgumentNullException.ThrowIfNull(rule);
        var plan = merging ? PlanOf(measures, rule) : new Plan(measures.IsEmpty ? [] : Blocks.Months(measures), []);
        var cells = ImmutableArray.CreateBuilder<ReleasedCell>();
        var withheld = ImmutableArray.CreateBuilder<Withheld>();
        foreach (var measure in measures)
        {
            ImmutableArray<ReleasedCell> own = merging
                ? [.. Wholes(measure, plan, first, rule), .. Levels(measure, plan, first, rule)]
                : [.. Careless(measure, plan, first, rule)];
            if (own.IsEmpty) withheld.Add(new Withheld(measure.Measure, WithheldReason.SmallNumbers));
            else if (earlier.Any(release => !ReleaseConsistency.Holds(measure, own, release, first, rule)))
                withheld.Add(new Withheld(measure.Measure, WithheldReason.Difference));
            else cells.AddRange(own);
        }

        return new Release(rule, cells.ToImmutable(), withheld.ToImmutable(), earlier.Length);
    }

    private sealed record Plan(ImmutableArray<SharedBlock> Blocks, ImmutableArray<SharedSplit> Splits);

    private static Plan PlanOf(ImmutableArray<MeasureSeries> measures, DisclosureRule rule)
    {
        if (measures.IsEmpty) return new Plan([], []);
        var network = DisclosureRule.For(Analysis.Audience.Network)!;
        var parts = Blocks.Months(measures);
        ImmutableArray<SharedSplit>? within = null;
        if (rule.Threshold > network.Threshold)
            (parts, within) = Groups.Of(measures, Blocks.Of(measures, parts, network), null, parts, network);
        var (blocks, splits) = Groups.Of(measures, Blocks.Of(measures, parts, rule), within, parts, rule);
        return new Plan(blocks, splits);
    }

    private static IEnumerable<ReleasedCell> Wholes(MeasureSeries measure, Plan plan, Month first, DisclosureRule rule)
    {
        Block[] blocks = [.. plan.Blocks.Where(block => block.Measures.Contains(measure.Measure)).Select(block => block.Block)];
        if (blocks.Length == 0) yield break;
        // Sums stand only over blocks without a gap between them.
        var run = blocks.Length - 1;
        while (run > 0 && blocks[run - 1].To + 1 == blocks[run].From)
            run--;
        var last = blocks[^1].To;
        if (run == 0) yield return Cell(new Block(blocks[0].From, last), CellKind.Total);
        var from = blocks[run..].LastOrDefault(block => last - block.From + 1 >= Groups.SpanMonths, blocks[run]).From;
        yield return Cell(new Block(from, last), CellKind.Recent);
        foreach (var block in blocks)
            yield return Cell(block, CellKind.Block);

        ReleasedCell Cell(Block block, CellKind kind) => new(
            measure.Measure, first.AddMonths(block.From), first.AddMonths(block.To), CountRow.All, CountRow.All,
            rule.Shown(block.Sum(measure.Counts)), kind);
    }

    private static IEnumerable<ReleasedCell> Levels(MeasureSeries measure, Plan plan, Month first, DisclosureRule rule)
    {
        foreach (var (of, stratum, levels) in plan.Splits.Where(split => plan.Blocks.Any(block => block.Block == split.Of
            && block.Measures.Contains(measure.Measure))))
        {
            var rest = Groups.Sum(measure, stratum, null, of);
            foreach (var level in levels)
            {
                var count = Groups.Sum(measure, stratum, level, of);
                rest = Groups.Less(rest, count);
                yield return Cell(level, count);
            }

            if (!rest.IsEmpty) yield return Cell(Other, rest);

            ReleasedCell Cell(string level, Count count) => new(
                measure.Measure, first.AddMonths(of.From), first.AddMonths(of.To), stratum, level, rule.Shown(count), CellKind.Block);
        }
    }

    // What happens without merging: months and levels that are small are left out, the totals stand.
    private static IEnumerable<ReleasedCell> Careless(MeasureSeries measure, Plan plan, Month first, DisclosureRule rule)
    {
        var all = new Block(0, measure.Counts.Length - 1);
        foreach (var (block, stratum, level, counts, kind) in plan.Blocks
                     .Select(block => (block.Block, CountRow.All, CountRow.All, measure.Counts, CellKind.Block))
                     .Append((all, CountRow.All, CountRow.All, measure.Counts, CellKind.Total))
                     .Concat(measure.Levels.Select(level => (all, level.Stratum, level.Level, level.Counts, CellKind.Block))))
            if (rule.Safe(block.Sum(counts)))
                yield return new ReleasedCell(measure.Measure, first.AddMonths(block.From), first.AddMonths(block.To), stratum, level,
                    rule.Shown(block.Sum(counts)), kind);
    }
}
