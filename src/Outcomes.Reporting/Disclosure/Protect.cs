using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>
/// Disclosure control by merging. Months are merged into blocks until a block is safe to show, levels into <c>(other)</c> until what
/// is left is safe; whatever is not yet safe is left out of every total, so no subtraction of what is shown leaves a small number. A
/// block depends on its own and earlier months only: next month's release repeats it, so two releases differ by whole safe blocks.
/// <para>
/// Why it holds: within one span the counts shown are margins (met, not met, missing by time, by level) of one table of records. A hidden
/// cell where two margins r and c of a total N cross can be anything between max(0, r + c - N) and min(r, c), a width of
/// min(r, c, N - r, N - c) (Frechet's bounds; general mathematics, from memory). All four are safe here, so the width is at least the threshold, or the cell is an empty
/// or a shown one. Measures that count the same records merge on one grid of months and split by level over the same spans, so that the records of one measure cut
/// out no small part of another.
/// </para>
/// </summary>
public static class Protect
{
    /// <summary>The merged levels.</summary>
    public const string Other = "(other)";

    private const int SpanMonths = 12;

    /// <summary>The counts that may be shown.</summary>
    /// <param name="measures">Unprotected counts, each over the same months.</param>
    /// <param name="first">The month of the first count.</param>
    /// <param name="rule">Thresholds and rounding.</param>
    /// <param name="earlier">Earlier releases, each with the counts that it showed.</param>
    public static Release Of(ImmutableArray<MeasureSeries> measures, Month first, DisclosureRule rule, ImmutableArray<ImmutableArray<EarlierCell>> earlier)
        => Of(measures, first, rule, earlier, merging: true);

    /// <summary>With <paramref name="merging"/> off only small cells themselves are hidden, as a careless release would: for tests of the attack.</summary>
    internal static Release Of(ImmutableArray<MeasureSeries> measures, Month first, DisclosureRule rule, ImmutableArray<ImmutableArray<EarlierCell>> earlier, bool merging)
    {
        ArgumentNullException.ThrowIfNull(rule);
        var plans = new Dictionary<string, Plan>(StringComparer.Ordinal);
        foreach (var universe in measures.GroupBy(measure => measure.Universe, StringComparer.Ordinal))
        {
            ImmutableArray<MeasureSeries> members = [.. universe];
            var grid = merging ? Blocks.Grid(members, rule) : Blocks.Months(members[0].Counts.Length);
            var blocks = members.ToDictionary(each => each.Measure, each => merging ? Blocks.Of(each.Counts, grid, rule) : grid, StringComparer.Ordinal);
            var spans = Blocks.Spans(grid, [.. blocks.Values], SpanMonths);
            foreach (var member in members)
                plans[member.Measure] = new Plan(blocks[member.Measure], spans);
        }

        var cells = ImmutableArray.CreateBuilder<ReleasedCell>();
        var withheld = ImmutableArray.CreateBuilder<Withheld>();
        foreach (var measure in measures)
        {
            ImmutableArray<ReleasedCell> own = merging
                ? [.. Wholes(measure, plans[measure.Measure].Blocks, first, rule), .. Levels(measure, plans[measure.Measure], first, rule)]
                : [.. Careless(measure, plans[measure.Measure], first, rule)];
            if (own.IsEmpty) withheld.Add(new Withheld(measure.Measure, WithheldReason.SmallNumbers));
            else if (earlier.Any(release => !Agreement.Holds(measure, own, release, first, rule))) withheld.Add(new Withheld(measure.Measure, WithheldReason.Difference));
            else cells.AddRange(own);
        }

        return new Release(rule, cells.ToImmutable(), withheld.ToImmutable(), earlier.Length);
    }

    private sealed record Plan(ImmutableArray<Block> Blocks, ImmutableArray<Block> Spans);

    private static IEnumerable<ReleasedCell> Wholes(MeasureSeries measure, ImmutableArray<Block> blocks, Month first, DisclosureRule rule)
    {
        if (blocks.IsEmpty) yield break;
        var last = blocks[^1].To;
        yield return Cell(new Block(blocks[0].From, last), CellKind.Total);
        var from = blocks.LastOrDefault(block => last - block.From + 1 >= SpanMonths, blocks[0]).From;
        yield return Cell(new Block(from, last), CellKind.Recent);
        foreach (var block in blocks)
            yield return Cell(block, CellKind.Block);

        ReleasedCell Cell(Block block, CellKind kind) => new(
            measure.Measure, first.AddMonths(block.From), first.AddMonths(block.To), CountRow.All, CountRow.All, rule.Shown(block.Sum(measure.Counts)), kind);
    }

    // Only over spans that begin and end with blocks of the whole: otherwise levels would add up to a total that cuts a block.
    private static IEnumerable<ReleasedCell> Levels(MeasureSeries measure, Plan plan, Month first, DisclosureRule rule)
    {
        foreach (var stratum in measure.Levels.GroupBy(level => level.Stratum, StringComparer.Ordinal))
            foreach (var span in plan.Spans.Where(span => plan.Blocks.Any(block => block.From == span.From) && plan.Blocks.Any(block => block.To == span.To)))
                foreach (var (level, count) in Split([.. stratum.Select(level => (level.Level, span.Sum(level.Counts)))], rule))
                    yield return new ReleasedCell(measure.Measure, first.AddMonths(span.From), first.AddMonths(span.To), stratum.Key, level, rule.Shown(count), CellKind.Block);
    }

    /// <summary>Levels that are safe, and the rest as one, which is safe or empty; nothing where fewer than two groups would be left.</summary>
    internal static ImmutableArray<(string Level, Count Count)> Split(ImmutableArray<(string Level, Count Count)> levels, DisclosureRule rule)
    {
        var kept = levels.Where(level => rule.Safe(level.Count)).ToList();
        var rest = levels.Where(level => !rule.Safe(level.Count)).Aggregate(default(Count), (sum, level) => sum + level.Count);
        while (!rest.IsEmpty && !rule.Safe(rest) && kept.Count > 0)
        {
            var smallest = kept.OrderBy(level => level.Count.Eligible).ThenBy(level => level.Level, StringComparer.Ordinal).First();
            kept.Remove(smallest);
            rest += smallest.Count;
        }

        if (!rest.IsEmpty)
            kept.Add((Other, rest));
        return kept.Count >= 2 ? [.. kept] : [];
    }

    // What happens without merging: months and levels that are small are left out, the totals stand.
    private static IEnumerable<ReleasedCell> Careless(MeasureSeries measure, Plan plan, Month first, DisclosureRule rule)
    {
        var all = new Block(0, measure.Counts.Length - 1);
        foreach (var (block, stratum, level, counts, kind) in plan.Blocks.Select(block => (block, CountRow.All, CountRow.All, measure.Counts, CellKind.Block))
                     .Append((all, CountRow.All, CountRow.All, measure.Counts, CellKind.Total))
                     .Concat(measure.Levels.Select(level => (all, level.Stratum, level.Level, level.Counts, CellKind.Block))))
            if (rule.Safe(block.Sum(counts)))
                yield return new ReleasedCell(measure.Measure, first.AddMonths(block.From), first.AddMonths(block.To), stratum, level, rule.Shown(block.Sum(counts)), kind);
    }
}
