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
        var noted = ImmutableArray.CreateBuilder<EarlierCell>();
        ImmutableArray<MeasureSeries> left = measures;
        foreach (var period in Settled.Periods(periods.Between(first, last), earlier, last))
        {
            noted.AddRange(Cells(period, left, first, periods, rule, earlier));
            left = [.. left.Where(measure => !IsDropped(measure, period, first, rule, noted))];
        }

        return new(new Release(rule, periods, [.. measures.SelectMany(measure => Shown(measure.Measure, noted, rule))]), noted.ToImmutable());
    }

    // Neither met nor not met is none: were periods without an event shown and those with a few not, a rare event would look as if it never
    // happened. For the same reason a measure with too few is not shown in a later period.
    private static bool IsEnough(Count sum, DisclosureRule rule) => sum.Met >= rule.Threshold && sum.Eligible - sum.Met >= rule.Threshold;

    private static bool IsDropped(
        MeasureSeries measure, Settled period, Month first, DisclosureRule rule, IEnumerable<EarlierCell> noted) =>
        (period.Release is null || period.Release.Means(measure))
        && !noted.Any(cell => cell.Measure == measure.Measure && cell.From == period.Period.From)
        && !IsEnough(PeriodCounts.Of([measure], first, period.Period, split: false)[0].Whole, rule);

    // The counts of a period before rounding: as an earlier release for the same readers showed them, as one for others did where these
    // readers may see them, or from records where none has shown the period.
    private static IEnumerable<EarlierCell> Cells(Settled settled, ImmutableArray<MeasureSeries> left, Month first, Timetable periods,
        DisclosureRule rule, ImmutableArray<EarlierRelease> earlier)
    {
        var period = settled.Period;
        if (settled.Release is { } release)
        {
            MeasureSeries[] meant = [.. left.Where(release.Means)];
            var cells = settled.Cells.Where(cell => meant.Any(measure => measure.Measure == cell.Measure)).ToArray();
            return release.Audience == rule.Audience ? cells
                : cells.All(cell => cell.Exact) ? Chosen(PeriodCounts.Of(meant, cells), period, rule)
                : [];
        }

        var nested = new NestedReleases(earlier, period);
        var counts = PeriodCounts.Of(left, first, period, split: periods.Months >= Timetable.Year && !nested.Any);
        return Chosen([.. nested.Apart(left, counts, rule)], period, rule);
    }

    private static IEnumerable<EarlierCell> Chosen(ImmutableArray<PeriodCount> counts, Period period, DisclosureRule rule)
    {
        var network = DisclosureRule.For(Audience.Network)!;
        ImmutableArray<SharedSplit>? within = null;
        if (rule.Threshold > network.Threshold)
            (counts, within) = Groups.Of(Admit(counts, network), null, network);
        var (shown, splits) = Groups.Of(Admit(counts, rule), within, rule);
        foreach (var measure in shown)
        {
            yield return Cell(measure, CountRow.All, CountRow.All, measure.Whole);
            foreach (var (stratum, levels) in splits)
            {
                var rest = measure.Sum(stratum, null);
                foreach (var level in levels)
                {
                    var count = measure.Sum(stratum, level);
                    rest = Groups.Less(rest, count);
                    yield return Cell(measure, stratum, level, count);
                }

                if (!rest.IsEmpty) yield return Cell(measure, stratum, Other, rest);
            }
        }

        EarlierCell Cell(PeriodCount measure, string stratum, string level, Count count) =>
            new(measure.Measure, period.From, period.To, stratum, level, count);
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
        ReleasedCell[] cells = [.. noted.Where(cell => cell.Measure == measure).Select(cell => new ReleasedCell(
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
