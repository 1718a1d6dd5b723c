using System.Collections.Immutable;

namespace Outcomes.Studies.Monthly;

/// <summary>The whole study of the monthly test and the planned comparison, on one thread: its cells, their order and their seed.</summary>
internal static class MonthlyStudy
{
    /// <summary>Any number would do; this one was written down before the first run.</summary>
    public const ulong Seed = 20_261_201;

    /// <summary>Of the tries.</summary>
    public const ulong TriesSeed = 20_261_202;

    /// <summary>Of the last try, whose limit was fitted on others.</summary>
    public const ulong FreshSeed = 20_261_204;

    /// <summary>Departments of a stable cell and rate; a changed cell has half as many.</summary>
    public const int Departments = 10_000;

    public static ImmutableArray<(double Volume, int History)> Cells { get; } =
        [(5, 12), (5, 24), (10, 12), (10, 24), (25, 12), (25, 24), (50, 12), (50, 24)];

    public static ImmutableArray<double> Correlations { get; } = [0, 0.01, 0.02];

    public static IEnumerable<MonthlyRow> Rows(int departments, Action<string> progress) =>
        PlannedRows(departments, progress).Concat(StableRows(departments, progress)).Concat(ChangedRows(departments / 2, progress));

    private static IEnumerable<MonthlyRow> StableRows(int departments, Action<string> progress)
    {
        foreach (var (volume, history) in Cells)
        {
            progress($"stable: {volume} cases a month, {history} months of history");
            var tests = SignalTests.Three();
            foreach (var correlation in volume == 10 && history == 24 ? Correlations.Add(0.05) : Correlations)
                foreach (var row in StableAndChanged.Stable(tests, volume, history, correlation, departments, Seed))
                    yield return row;
        }
    }

    private static IEnumerable<MonthlyRow> ChangedRows(int departments, Action<string> progress)
    {
        foreach (var (volume, history) in Cells)
        {
            progress($"changed: {volume} cases a month, {history} months of history");
            var tests = SignalTests.Three();
            foreach (var truth in Truth.All)
                foreach (var row in StableAndChanged.Changed(tests, truth, volume, history, departments, Seed))
                    yield return row;
        }
    }

    private static IEnumerable<MonthlyRow> PlannedRows(int departments, Action<string> progress)
    {
        foreach (var volume in PlannedStudy.Volumes)
        {
            progress($"planned: {volume} cases a month");
            foreach (var correlation in PlannedStudy.Correlations)
            {
                foreach (var rates in PlannedStudy.Rates)
                    foreach (var row in PlannedStudy.Coverage(volume, (12, 12), rates, correlation, departments, Seed))
                        yield return row;
                foreach (var rates in ((double, double)[])[(0.20, 0.20), (0.20, 0.10)])
                    foreach (var row in PlannedStudy.Looks(volume, rates, correlation, departments, Seed))
                        yield return row;
                foreach (var rate in (double[])[0.05, 0.10, 0.20])
                    foreach (var row in PlannedStudy.Year(volume, rate, correlation, departments, Seed))
                        yield return row;
            }
            if (volume is 10 or 25)
                foreach (var row in ((int[])[0, 6, 12]).SelectMany(ago => LevelStudy.Level(volume, ago, departments / 5, Seed))
                    .Concat(LevelStudy.Start(volume, departments / 5, Seed)))
                    yield return row;
        }
        foreach (var months in ((int, int)[])[(24, 6), (12, 6), (24, 12), (12, 3)])
            foreach (var rate in (double[])[0.05, 0.20])
                foreach (var correlation in PlannedStudy.Correlations)
                    foreach (var row in PlannedStudy.Coverage(10, months, (rate, rate), correlation, departments, Seed))
                        yield return row;
    }
}
