using System.Collections.Immutable;

namespace Outcomes.Studies.Signals;

/// <summary>The whole study: its cells, their order and its seed.</summary>
internal static class SignalStudy
{
    public const int Departments = 10_000;

    /// <summary>Any number would do; this one was written down before the first run.</summary>
    public const ulong Seed = 20_260_331;

    /// <summary>Of the tries, which came later.</summary>
    public const ulong TriesSeed = 20_261_125;

    /// <summary>Cases a month and months of history.</summary>
    public static ImmutableArray<(double Volume, int History)> Cells { get; } =
        [(5, 12), (5, 24), (10, 12), (10, 24), (25, 12), (25, 24), (50, 12), (50, 24)];

    /// <summary>Of the limits for small units, which came last.</summary>
    public const ulong SmallSeed = 20_261_127;

    /// <summary>Every row, table by table.</summary>
    /// <param name="departments">Departments a cell; the tables in the docs have <see cref="Departments"/>.</param>
    /// <param name="progress">Called with the name of each part as it starts.</param>
    public static IEnumerable<StudyRow> Rows(int departments, Action<string> progress)
    {
        foreach (var scheme in (Scheme[])[Scheme.Shipped, Scheme.First])
            foreach (var (volume, history) in Cells)
            {
                progress($"{scheme.Paces[0].Name}: {volume} cases a month, {history} months of history");
                // Both schemes see the same departments.
                foreach (var row in FalseAlarms.Rows(scheme, volume, history, departments, Seed)
                    .Concat(Detection.Rows(scheme, volume, history, departments, Seed)))
                    yield return row;
            }
        foreach (var (volume, history) in ((double, int)[])[(5, 12), (5, 24), (10, 12), (10, 24), (25, 12), (25, 24), (50, 12)])
        {
            progress($"by department: {volume} cases a month, {history} months of history");
            foreach (var row in Conditional.Rows(volume, history, Math.Max(10, departments / 50), Math.Max(20, departments / 25), Seed))
                yield return row;
        }
        foreach (var (volume, history) in ((double, int)[])[(5, 12), (10, 12), (10, 24), (25, 12), (50, 12)])
        {
            progress($"usual rules: {volume} cases a month, {history} months of history");
            foreach (var row in UsualRules.Rows(volume, history, departments, Seed))
                yield return row;
        }
        foreach (var (volume, history) in ((double, int)[])[(10, 12), (25, 12), (25, 24)])
        {
            progress($"signals: {volume} cases a month, {history} months of history");
            foreach (var row in Starts.Rows(volume, history, 0.15, 0.30, departments, Seed)
                .Concat(Starts.Rows(volume, history, 0.15, 0.25, departments, Seed)))
                yield return row;
        }
        foreach (var (name, options) in Alternatives.All)
        {
            progress($"alternatives: {name}");
            foreach (var row in Alternatives.Rows(name, options, departments, Seed))
                yield return row;
        }
        foreach (var row in TriesRows(departments, progress).Concat(BeyondRows(departments, progress))
            .Concat(MixRows(departments, progress)).Concat(SmallRows(departments, progress)))
            yield return row;
    }

    /// <summary>The rows of <see cref="Tries"/> alone.</summary>
    public static IEnumerable<StudyRow> TriesRows(int departments, Action<string> progress)
    {
        foreach (var (volume, history) in Tries.Cells)
        {
            progress($"tries: {volume} cases a month, {history} months of history");
            foreach (var row in Tries.Rows(volume, history, departments, TriesSeed))
                yield return row;
        }
    }

    /// <summary>The rows of <see cref="Tries.Beyond"/> alone.</summary>
    public static IEnumerable<StudyRow> BeyondRows(int departments, Action<string> progress)
    {
        foreach (var (volume, history) in Tries.Cells)
        {
            progress($"beyond: {volume} cases a month, {history} months of history");
            foreach (var row in Tries.Beyond(volume, history, departments, TriesSeed))
                yield return row;
        }
    }

    /// <summary>The rows of <see cref="MixTries"/> alone, from half as many departments: four statistics are followed in each.</summary>
    public static IEnumerable<StudyRow> MixRows(int departments, Action<string> progress)
    {
        foreach (var (volume, history) in Tries.Cells)
        {
            progress($"mix: {volume} cases a month, {history} months of history");
            foreach (var row in MixTries.Rows(volume, history, departments / 2, TriesSeed))
                yield return row;
        }
    }

    /// <summary>The rows of <see cref="SmallUnits"/> alone.</summary>
    public static IEnumerable<StudyRow> SmallRows(int departments, Action<string> progress)
    {
        foreach (var (volume, history) in SmallUnits.Cells)
        {
            progress($"small: {volume} cases a month, {history} months of history");
            foreach (var row in SmallUnits.Rows(volume, history, departments, SmallSeed))
                yield return row;
        }
    }

    /// <summary>What the paces hang on alone: false alarms, times and single departments.</summary>
    public static IEnumerable<StudyRow> PaceRows(int departments, Action<string> progress)
    {
        foreach (var (volume, history) in Cells)
        {
            progress($"paces: {volume} cases a month, {history} months of history");
            foreach (var row in FalseAlarms.Rows(Scheme.Shipped, volume, history, departments, Seed)
                .Concat(Detection.Rows(Scheme.Shipped, volume, history, departments, Seed)))
                yield return row;
            if (volume < 50 || history < 24)
                foreach (var row in Conditional.Rows(volume, history, Math.Max(10, departments / 50), Math.Max(20, departments / 25), Seed))
                    yield return row;
        }
    }
}
