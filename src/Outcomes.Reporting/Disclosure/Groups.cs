using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>A split of a period by a stratum, and the levels that stand on their own; the others are one group.</summary>
internal sealed record SharedSplit(string Stratum, ImmutableArray<string> Levels);

/// <summary>Splits of a period by level, by the same groups for every measure that is shown in it.</summary>
internal static class Groups
{
    /// <summary>
    /// The splits of a period, and the measures that may stand beside them. All of these are split or none: were one split and a nested one
    /// not, the few by which they differ would pin the hidden groups of the other. Headline measures settle the groups; another measure
    /// that is small in one of them is hidden in that period.
    /// </summary>
    /// <param name="shown">The measures that are shown, in order of worth.</param>
    /// <param name="within">The splits of a stricter reader's neighbour, whose groups these may merge and not cut; null: any.</param>
    /// <param name="rule">What is enough.</param>
    public static (ImmutableArray<PeriodCount> Measures, ImmutableArray<SharedSplit> Splits) Of(
        ImmutableArray<PeriodCount> shown, ImmutableArray<SharedSplit>? within, DisclosureRule rule)
    {
        PeriodCount[] headline = shown.Any(each => each.Headline) ? [.. shown.Where(each => each.Headline)] : [.. shown];
        List<SharedSplit> splits = [];
        foreach (var stratum in headline.SelectMany(each => each.Levels).Select(level => level.Stratum).Distinct(StringComparer.Ordinal))
        {
            var theirs = within?.FirstOrDefault(each => each.Stratum == stratum);
            if (within is not null && theirs is null) continue;
            var levels = headline.SelectMany(each => each.Levels).Where(level => level.Stratum == stratum).Select(level => level.Level)
                .Distinct().Where(level => level != Protect.Other && theirs?.Levels.Contains(level) != false).Order(StringComparer.Ordinal);
            var alone = Alone([.. levels.Select(level => (level, Counts(headline, stratum, level)))],
                Counts(headline, stratum, null), rule);
            if (alone.Length > 0) splits.Add(new SharedSplit(stratum, alone));
        }

        List<PeriodCount> beside = [.. headline];
        foreach (var measure in shown.Except(headline))
            if (splits.TrueForAll(split => Fits(split, [.. beside, measure], rule)))
                beside.Add(measure);
        return ([.. shown.Where(beside.Contains)], [.. splits]);
    }

    private static ImmutableArray<Count> Counts(IEnumerable<PeriodCount> measures, string stratum, string? level) =>
        [.. measures.Select(each => each.Sum(stratum, level))];

    private static bool Fits(SharedSplit split, PeriodCount[] measures, DisclosureRule rule)
    {
        var levels = split.Levels.Select(level => Counts(measures, split.Stratum, level)).ToArray();
        ImmutableArray<Count> rest = [.. Counts(measures, split.Stratum, null)
            .Select((sum, at) => levels.Aggregate(sum, (left, level) => Less(left, level[at])))];
        return levels.All(level => Safe(level, rule)) && (rest.All(count => count.IsEmpty) || Safe(rest, rule));
    }

    /// <summary>
    /// The levels that can stand alone with the rest as one group that is safe or empty; none where fewer than two groups would be left.
    /// </summary>
    internal static ImmutableArray<string> Alone(
        ImmutableArray<(string Level, ImmutableArray<Count> Counts)> levels, ImmutableArray<Count> whole, DisclosureRule rule)
    {
        var kept = levels.Where(level => Safe(level.Counts, rule)).ToList();
        while (kept.Count > 0)
        {
            ImmutableArray<Count> rest = [.. whole.Select((sum, at) => kept.Aggregate(sum, (left, level) => Less(left, level.Counts[at])))];
            var none = rest.All(count => count.IsEmpty);
            if (none || Safe(rest, rule)) return kept.Count + (none ? 0 : 1) >= 2 ? [.. kept.Select(level => level.Level)] : [];
            kept.Remove(kept.OrderBy(level => level.Counts[0].Eligible).ThenBy(level => level.Level, StringComparer.Ordinal).First());
        }

        return [];
    }

    private static bool Safe(ImmutableArray<Count> counts, DisclosureRule rule) =>
        counts.Select((count, at) => rule.Safe(count) && rule.Apart(count, counts.Take(at))).All(safe => safe);

    /// <summary>What is left of a count without a part of it.</summary>
    public static Count Less(Count from, Count part) =>
        new(from.Met - part.Met, from.Eligible - part.Eligible, from.Missing - part.Missing);
}
