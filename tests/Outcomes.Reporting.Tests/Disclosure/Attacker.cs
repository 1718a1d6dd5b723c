using System.Collections.Immutable;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tests.Disclosure;

/// <summary>
/// Turns releases into what an attacker knows, and says which small cells of a department are pinned down to a width below the threshold.
/// </summary>
internal static class Attacker
{
    private static readonly Func<Count, long>[] Parts = [count => count.Met, count => count.Eligible - count.Met, count => count.Missing];

    public static int Recovered(ImmutableArray<MeasureSeries> truth, Month first, params Release[] releases)
    {
        var rule = releases[0].Rule;
        var recovered = 0;
        foreach (var stratum in truth[0].Levels.Select(level => level.Stratum).Distinct())
            recovered += Recovered(truth, first, stratum, rule, releases);
        return recovered;
    }

    // What one released cell says of the variables that it sums, for each measure and part.
    private static void Know(
        Attack attack, ReleasedCell cell, DisclosureRule rule, ImmutableArray<MeasureSeries> truth, Func<string, int, int[]> variables)
    {
        double half = rule.RoundTo / 2;
        int[] Sum(int part) => variables(cell.Measure, part);
        attack.Know(Sum(0), cell.Count.Met - half, cell.Count.Met + half);
        attack.Know([.. Sum(0), .. Sum(1)], cell.Count.Eligible - half, cell.Count.Eligible + half);
        attack.Know(Sum(2), cell.Count.Missing - half, cell.Count.Missing + half);
        if (rule.RoundTo != 1) return;
        attack.Know(Sum(1), cell.Count.Eligible - cell.Count.Met, cell.Count.Eligible - cell.Count.Met);
        foreach (var other in truth)
            attack.Know(Enumerable.Range(0, 3).SelectMany(part => variables(other.Measure, part)),
                cell.Count.Eligible + cell.Count.Missing, cell.Count.Eligible + cell.Count.Missing);
    }

    // One stratum at a time: x[measure, part, level, month], with the records of a level and month the same for all measures.
    private static int Recovered(ImmutableArray<MeasureSeries> truth, Month first, string stratum, DisclosureRule rule, Release[] releases)
    {
        var attack = new Attack();
        var months = truth[0].Counts.Length;
        string[] levels = [.. truth.SelectMany(measure => measure.Levels).Where(level => level.Stratum == stratum)
            .Select(level => level.Level).Distinct().Order(StringComparer.Ordinal)];
        var x = truth.ToDictionary(measure => measure.Measure, _ => Parts.Select(
            _ => levels.Select(_ => Enumerable.Range(0, months).Select(_ => attack.Variable()).ToArray()).ToArray()).ToArray());
        foreach (var cell in releases.SelectMany(release => release.Cells).Where(cell => cell.IsWhole || cell.Stratum == stratum))
        {
            var (from, to) = (cell.From.MonthsSince(first), cell.To.MonthsSince(first));
            int[] at = cell.IsWhole ? [.. Enumerable.Range(0, levels.Length)]
                : cell.Level == Protect.Other ? Others(cell)
                : [Array.IndexOf(levels, cell.Level)];
            Know(attack, cell, rule, truth,
                (measure, part) => [.. at.SelectMany(level => x[measure][part][level][from..(to + 1)])]);
        }

        attack.Subtract();
        attack.Solve();
        var recovered = 0;
        foreach (var measure in truth)
            for (var part = 0; part < 3; part++)
            {
                for (var month = 0; month < months; month++)
                {
                    Judge(Parts[part](measure.Counts[month]), levels.Select((_, level) => x[measure.Measure][part][level][month]));
                    for (var level = 0; level < levels.Length; level++)
                        Judge(Parts[part](Series(measure, levels[level])[month]), [x[measure.Measure][part][level][month]]);
                }

                for (var level = 0; level < levels.Length; level++)
                    Judge(Series(measure, levels[level]).Sum(Parts[part]), x[measure.Measure][part][level]);
            }

        return recovered;

        int[] Others(ReleasedCell other)
        {
            var named = releases.SelectMany(release => release.Cells).Where(cell => cell.Measure == other.Measure && cell.Stratum == stratum
                && cell.From == other.From && cell.To == other.To).Select(cell => cell.Level).ToHashSet();
            return [.. Enumerable.Range(0, levels.Length).Where(level => !named.Contains(levels[level]))];
        }

        ImmutableArray<Count> Series(MeasureSeries measure, string level) =>
            measure.Levels.FirstOrDefault(each => each.Stratum == stratum && each.Level == level)?.Counts ?? [.. new Count[months]];

        void Judge(long value, IEnumerable<int> variables)
        {
            if (value == 0 || value >= rule.Threshold) return;
            var (low, high) = attack.Bounds(variables);
            Assert.True(low <= value + 1e-6 && value <= high + 1e-6, "the attacker believes something untrue");
            if (high - low < rule.Threshold - 1e-6) recovered++;
        }
    }
}
