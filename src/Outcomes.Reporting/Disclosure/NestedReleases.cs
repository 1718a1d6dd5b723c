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
    private readonly (EarlierRelease Release, EarlierCell[] Wholes)[] _releases;
    private readonly bool _cut;

    public NestedReleases(ImmutableArray<EarlierRelease> earlier, Period period)
    {
        var near = earlier.Where(each => !each.SameRecords).Select(each => (Release: each, Cells: each.Cells
            .Where(cell => cell.Shown && new Period(cell.From, cell.To).Overlaps(period)).ToArray())).Where(each => each.Cells.Length > 0);
        _releases = [.. near.Select(each => (each.Release, each.Cells.Where(cell => cell.Stratum == CountRow.All).ToArray()))];
        _cut = _releases.Any(each => each.Wholes.Any(cell => new Period(cell.From, cell.To) != period || !cell.Exact));
    }

    /// <summary>True where there is any.</summary>
    public bool Any => _releases.Length > 0;

    /// <summary>
    /// The measures that may be shown beside them: each of them showed the measure too, and the difference could itself be shown. What only
    /// one of two shows can be nested with what only the other does. None where their periods cut this one, or are known rounded.
    /// </summary>
    public IEnumerable<PeriodCount> Apart(
        ImmutableArray<MeasureSeries> measures, ImmutableArray<PeriodCount> counts, DisclosureRule rule)
    {
        if (_cut) yield break;
        List<Count>[] admitted = [.. _releases.Select(_ => new List<Count>())];
        foreach (var count in counts)
        {
            var measure = measures.First(each => each.Measure == count.Measure);
            Count?[] differences = [.. _releases.Select(each => each.Release.Means(measure)
                && Array.Find(each.Wholes, cell => cell.Measure == count.Measure) is { } whole
                ? Difference(count.Whole, whole.Count)
                : null)];
            if (!differences.Select((difference, at) => difference is { } group && (group.IsEmpty || rule.Safe(group))
                && rule.Apart(group, admitted[at])).All(safe => safe)) continue;
            foreach (var (difference, others) in differences.Zip(admitted)) others.Add(difference!.Value);
            yield return count;
        }
    }

    // Null where some records are in the one and some in the other: a difference of both says nothing of how many.
    private static Count? Difference(Count one, Count other)
    {
        var (more, less) = (Groups.Less(one, other), Groups.Less(other, one));
        return IsGroup(more) ? more : IsGroup(less) ? less : null;
    }

    private static bool IsGroup(Count count) => count.Met >= 0 && count.Eligible >= count.Met && count.Missing >= 0;
}
