using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>
/// Disclosure control by merging. Months are merged into the periods of a timetable that no count changes, levels into <c>(other)</c> until
/// what is left is safe; a measure that is small in a period is hidden there. What an earlier release showed of a period stands for good:
/// later records of it are never shown, so two releases differ by whole safe periods.
/// <para>
/// Why it holds: every count that is shown, of whatever measure, is of one period, or of whole groups of its levels, the same groups for
/// all measures that are shown in it. Within one of them records can change places freely, in all measures at once, and every count that
/// is shown stays as it is, however the measures are nested. So a hidden part of it can be anything from none to all of it, and all of it
/// is at least the threshold, or none. What is left are measures that are not shown: who belongs to one measure and not to another is none
/// or at least the threshold too, and what is missing has twice the room, for measures share their fields
/// (docs/decisions/0024-merged-blocks.md).
/// </para>
/// <para>
/// A public release merges the groups of the one for a network and rounds: who holds both learns nothing from the second.
/// </para>
/// </summary>
public static class Protect
{
    /// <summary>The merged levels.</summary>
    public const string Other = "(other)";

    /// <summary>The counts that may be shown.</summary>
    /// <param name="measures">Unprotected counts of months that are over, each over the same months, in order of worth.</param>
    /// <param name="first">The month of the first count.</param>
    /// <param name="periods">The timetable.</param>
    /// <param name="rule">Thresholds and rounding.</param>
    /// <param name="earlier">Earlier releases; of two that showed one period the first counts.</param>
    public static ProtectedCounts Of(
        ImmutableArray<MeasureSeries> measures, Month first, Timetable periods, DisclosureRule rule, ImmutableArray<EarlierRelease> earlier)
    {
        ArgumentNullException.ThrowIfNull(rule);
        ArgumentNullException.ThrowIfNull(periods);
        if (measures.IsEmpty) return new(new Release(rule, periods, []), []);
        var last = first.AddMonths(measures[0].Counts.Length - 1);
        var network = DisclosureRule.For(Audience.Network)!;
        var noted = ImmutableArray.CreateBuilder<EarlierCell>();
        // Who may see less is shown no measure and no group that a network is not.
        var (left, offered) = (measures, measures);
        foreach (var settled in Settled.Periods(periods.Between(first, last), earlier, last))
        {
            var counts = Counts(settled, offered, first, periods, rule, earlier);
            noted.AddRange(settled.Release?.Audience == rule.Audience
                ? settled.Cells.Where(cell => cell.Shown
                    && left.Any(measure => measure.Measure == cell.Measure && settled.Release.Means(measure)))
                : Chosen(counts, [.. left.Select(measure => measure.Measure)], settled.Period, rule));
            noted.AddRange(settled.Release is null ? counts.SelectMany(count => count.Cells(settled.Period)) : settled.Kept);
            left = [.. left.Where(measure => StaysEnough(measure, settled, first, rule))];
            offered = [.. offered.Where(measure => StaysEnough(measure, settled, first, network))];
        }

        return new(new Release(rule, periods, [.. measures.SelectMany(measure => Shown(measure.Measure, noted, rule))]),
            noted.ToImmutable());
    }

    // Neither met nor not met is none: were periods without an event shown and those with a few not, a rare event would look as if it never
    // happened.
    private static bool IsEnough(Count sum, DisclosureRule rule) => sum.Met >= rule.Threshold && sum.Eligible - sum.Met >= rule.Threshold;

    // For the same reason a measure with too few is not shown in a later period.
    private static bool StaysEnough(MeasureSeries measure, Settled settled, Month first, DisclosureRule rule) =>
        settled.Release?.Means(measure) == false
        || IsEnough(settled.Whole(measure.Measure) ?? PeriodCounts.Of([measure], first, settled.Period, split: false)[0].Whole, rule);

    // What is known of a period when these readers are first shown it: as it was when others were, or from records.
    private static ImmutableArray<PeriodCount> Counts(Settled settled, ImmutableArray<MeasureSeries> measures, Month first,
        Timetable periods, DisclosureRule rule, ImmutableArray<EarlierRelease> earlier)
    {
        if (settled.Release is { } release)
        {
            EarlierCell[] known = settled.Kept.Any() ? [.. settled.Kept] : [.. settled.Cells.Where(cell => cell.Exact)];
            return PeriodCounts.Of(measures.Where(release.Means), known);
        }

        var nested = new NestedReleases(earlier, settled.Period);
        return [.. nested.Apart(measures,
            PeriodCounts.Of(measures, first, settled.Period, split: periods.Months >= Timetable.Year && !nested.Any), rule)];
    }

    private static IEnumerable<EarlierCell> Chosen(
        ImmutableArray<PeriodCount> counts, ImmutableArray<string> left, Period period, DisclosureRule rule)
    {
        var network = DisclosureRule.For(Audience.Network)!;
        ImmutableArray<SharedSplit>? within = null;
        if (rule.Threshold > network.Threshold)
            (counts, within) = Groups.Of(Admit(counts, network), null, network);
        var (shown, splits) = Groups.Of(Admit([.. counts.Where(count => left.Contains(count.Measure))], rule), within, rule);
        foreach (var measure in shown)
        {
            yield return measure.Cell(period, CountRow.All, CountRow.All, measure.Whole);
            foreach (var (stratum, levels) in splits)
            {
                var rest = measure.Sum(stratum, null);
                foreach (var level in levels)
                {
                    var count = measure.Sum(stratum, level);
                    rest = Groups.Less(rest, count);
                    yield return measure.Cell(period, stratum, level, count);
                }

                if (!rest.IsEmpty) yield return measure.Cell(period, stratum, Other, rest);
            }
        }
    }

    private static ImmutableArray<PeriodCount> Admit(ImmutableArray<PeriodCount> measures, DisclosureRule rule)
    {
        List<Count> admitted = [];
        var shown = ImmutableArray.CreateBuilder<PeriodCount>();
        foreach (var measure in measures)
            if (IsEnough(measure.Whole, rule) && rule.Safe(measure.Whole) && rule.Apart(measure.Whole, admitted))
            {
                admitted.Add(measure.Whole);
                shown.Add(measure);
            }

        return shown.ToImmutable();
    }

    // Sums of what is shown say no more than their parts.
    private static IEnumerable<ReleasedCell> Shown(string measure, IEnumerable<EarlierCell> noted, DisclosureRule rule)
    {
        ReleasedCell[] cells = [.. noted.Where(cell => cell.Shown && cell.Measure == measure).Select(cell => new ReleasedCell(
            cell.Measure, cell.From, cell.To, cell.Stratum, cell.Level, rule.Shown(cell.Count), CellKind.Block))];
        ReleasedCell[] wholes = [.. cells.Where(cell => cell.IsWhole)];
        if (wholes.Length == 0) return [];
        // Sums stand only over periods without a gap between them.
        var run = wholes.Length - 1;
        while (run > 0 && wholes[run - 1].To.AddMonths(1) == wholes[run].From)
            run--;
        var last = wholes[^1].To;
        var from = wholes[run..].LastOrDefault(cell => last.MonthsSince(cell.From) + 1 >= Timetable.Year, wholes[run]).From;
        return [.. run == 0 ? [Sum(wholes, CellKind.Total)] : Array.Empty<ReleasedCell>(),
            Sum([.. wholes.Where(cell => cell.From >= from)], CellKind.Recent), .. wholes, .. cells.Where(cell => !cell.IsWhole)];

        static ReleasedCell Sum(ReleasedCell[] parts, CellKind kind) => parts[0] with
        {
            To = parts[^1].To,
            Count = parts.Aggregate(default(Count), (sum, cell) => sum + cell.Count),
            Kind = kind,
        };
    }
}
