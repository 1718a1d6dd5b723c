using System.Collections.Immutable;

namespace Outcomes.CaseMix;

/// <summary>Observed and expected events of one group of records, such as a month or a site.</summary>
/// <param name="Key">The group.</param>
/// <param name="Records">Judged records.</param>
/// <param name="Ratio">Observed over expected; null without records.</param>
public sealed record StandardisedGroup<TKey>(TKey Key, int Records, Ratio? Ratio);

/// <summary>Observed against expected events, by group and as a running sum.</summary>
public static class Standardised
{
    /// <summary>A ratio for each key, in the order given, keys without records included.</summary>
    /// <param name="keys">The groups wanted.</param>
    /// <param name="of">The group of each record; records of other groups are left out.</param>
    /// <param name="expected">Expected chance of each record.</param>
    /// <param name="events">Whether the event happened to it.</param>
    /// <param name="error">The standard error of the expected sum of some records, by index; null: taken as known.</param>
    public static ImmutableArray<StandardisedGroup<TKey>> Compare<TKey>(
        IEnumerable<TKey> keys, IReadOnlyList<TKey> of, IReadOnlyList<double> expected, IReadOnlyList<bool> events,
        Func<int[], double>? error = null)
        where TKey : notnull
    {
        var groups = Enumerable.Range(0, of.Count).GroupBy(i => of[i]).ToDictionary(group => group.Key, group => group.ToArray());
        return [.. keys.Select(key => groups.TryGetValue(key, out var records)
            ? new StandardisedGroup<TKey>(key, records.Length, StandardisedRatio.EstimateWithError(
                records.Count(i => events[i]), records.Sum(i => expected[i]), error?.Invoke(records) ?? 0))
            : new StandardisedGroup<TKey>(key, 0, null))];
    }

    /// <summary>
    /// Σ (observed − expected) up to each group: above 0 more events than expected so far, level where it goes as expected.
    /// </summary>
    public static ImmutableArray<double> Accumulate<TKey>(IEnumerable<StandardisedGroup<TKey>> groups)
    {
        double sum = 0;
        return [.. groups.Select(group => sum += group.Ratio is { } ratio ? ratio.Observed - ratio.Expected : 0)];
    }
}
