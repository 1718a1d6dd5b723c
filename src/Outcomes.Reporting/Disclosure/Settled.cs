using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>A period of a release: one that an earlier release of the same records has shown, or one of the timetable.</summary>
/// <param name="Period">Its months.</param>
/// <param name="Release">The earlier release; null for none.</param>
/// <param name="Cells">What that showed of it, and what was kept with it.</param>
internal sealed record Settled(Period Period, EarlierRelease? Release, ImmutableArray<EarlierCell> Cells)
{
    /// <summary>The counts as they were when the period was first shown to anyone; empty where only what was shown is known.</summary>
    public IEnumerable<EarlierCell> Kept => Cells.Where(cell => !cell.Shown);

    /// <summary>All records of a measure then; null where that is not known.</summary>
    public Count? Whole(string measure) => Cells.Where(cell => cell.Measure == measure && cell.Stratum == CountRow.All)
        .OrderBy(cell => cell.Shown).FirstOrDefault()?.Count;

    /// <summary>
    /// The periods in order: those that were shown keep their months, whatever the timetable is now; a period of the timetable that would
    /// overlap one, by which the difference could be drawn, is left out.
    /// </summary>
    public static ImmutableArray<Settled> Periods(
        ImmutableArray<Period> timetable, ImmutableArray<EarlierRelease> earlier, Month last)
    {
        List<Settled> settled = [];
        foreach (var release in earlier.Where(each => each.SameRecords))
            foreach (var group in release.Cells.GroupBy(cell => new Period(cell.From, cell.To)))
                if (!settled.Exists(each => each.Period.Overlaps(group.Key)))
                    settled.Add(new Settled(group.Key, release, [.. group]));
        settled.AddRange(timetable.Where(period => !settled.Exists(each => each.Period.Overlaps(period)))
            .Select(period => new Settled(period, earlier.FirstOrDefault(each => each.SameRecords && each.Through >= period.To), []))
            .ToArray());
        return [.. settled.Where(each => each.Period.To <= last).OrderBy(each => each.Period.From)];
    }
}
