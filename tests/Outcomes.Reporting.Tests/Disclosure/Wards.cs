using System.Collections.Immutable;
using Outcomes.Reporting.Disclosure;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tests.Disclosure;

/// <summary>Small departments by a seed: two to four measures of the same records, two strata, months of few cases.</summary>
internal static class Wards
{
    public static ImmutableArray<MeasureSeries> Of(int seed, int months)
    {
        var random = new Random(seed);
        var (perMonth, measures) = (1 + random.Next(14), 2 + random.Next(3));
        int[] levels = [2 + random.Next(3), 2 + random.Next(2)];
        double[] met = [.. Enumerable.Range(0, measures)
            .Select(_ => random.Next(3) switch { 0 => 0.02, 1 => 0.85, _ => random.NextDouble() })];
        double[] missing = [.. Enumerable.Range(0, measures).Select(_ => random.Next(3) switch { 0 => 0.0, 1 => 0.02, _ => 0.2 })];
        var counts = new Dictionary<(int Measure, int Stratum, int Level), Count[]>();
        for (var month = 0; month < months; month++)
            for (var record = random.Next(2 * perMonth); record >= 0; record--)
            {
                int[] of = [.. levels.Select(number => (int)(number * Math.Pow(random.NextDouble(), 2)))];
                for (var measure = 0; measure < measures; measure++)
                {
                    var count = random.NextDouble() < missing[measure]
                        ? new Count(0, 0, 1)
                        : new Count(random.NextDouble() < met[measure] ? 1 : 0, 1, 0);
                    Add((measure, -1, 0), count);
                    for (var stratum = 0; stratum < levels.Length; stratum++)
                        Add((measure, stratum, of[stratum]), count);
                }

                void Add((int, int, int) key, Count count)
                {
                    if (!counts.TryGetValue(key, out var series)) counts[key] = series = new Count[months];
                    series[month] += count;
                }
            }

        return [.. Enumerable.Range(0, measures).Select(measure => new MeasureSeries($"m{measure}", measure < 2, [.. counts[(measure, -1,
            0)]], [.. counts.Where(pair => pair.Key.Measure == measure && pair.Key.Stratum >= 0).OrderBy(pair => pair.Key)
                .Select(pair => new LevelSeries($"s{pair.Key.Stratum}", $"l{pair.Key.Level}", [.. pair.Value]))]))];
    }

    /// <summary>The first months of a department, as an earlier release knew it.</summary>
    public static ImmutableArray<MeasureSeries> Until(ImmutableArray<MeasureSeries> all, int months) =>
        [.. all.Select(measure => measure with
        {
            Counts = measure.Counts[..months],
            Levels = [.. measure.Levels.Select(level => level with { Counts = level.Counts[..months] })]
        })];
}
