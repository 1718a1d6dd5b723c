using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>
/// What releases from some of the same sources showed of a period: records that are in one and not in the other are a group too, and the
/// difference shows it.
/// </summary>
internal sealed class NestedReleases
{
    private readonly ImmutableArray<EarlierRelease> _releases;
    private readonly ImmutableArray<EarlierCell> _cells;
    private readonly bool _cut;

    public NestedReleases(ImmutableArray<EarlierRelease> earlier, Period period)
    {
        _releases = [.. earlier.Where(each => !each.SameRecords)];
        _cells = [.. _releases.SelectMany(each => each.Cells).Where(cell => cell.Shown && new Period(cell.From, cell.To).Overlaps(period))];
        _cut = _cells.Any(cell => new Period(cell.From, cell.To) != period || !cell.Exact);
    }

    /// <summary>True where there is any.</summary>
    public bool Any => !_cells.IsEmpty;

    /// <summary>
    /// The measures whose counts differ from theirs by nothing or by enough; none where their periods cut this one, or are known rounded.
    /// </summary>
    public IEnumerable<PeriodCount> Apart(
        ImmutableArray<MeasureSeries> measures, ImmutableArray<PeriodCount> counts, DisclosureRule rule)
    {
        if (_cut) return [];
        EarlierCell[] wholes = [.. _cells.Where(cell => cell.Stratum == CountRow.All)];
        return counts.Where(count => rule.Apart(count.Whole, wholes.Select(cell => cell.Count))
            && wholes.Where(cell => cell.Measure == count.Measure).All(cell => !rule.Differ(count.Whole, cell.Count))
            && measures.Where(measure => measure.Measure == count.Measure)
                .All(measure => _releases.All(release => !release.Asked.ContainsKey(measure.Measure) || release.Means(measure))));
    }
}
