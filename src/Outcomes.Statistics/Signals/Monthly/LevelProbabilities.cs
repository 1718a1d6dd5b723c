using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>From rising products to the probability of a month at every level and variation, odd months included.</summary>
/// <remarks>
/// With s = 1/ρ − 1, a = m s and b = (1 − m) s, x events in n cases of mean chance m have the beta-binomial probability
/// Π(a+i, i&lt;x) Π(b+i, i&lt;n−x) / Π(s+i, i&lt;n) times a factor that is the same everywhere. A month is drawn with 98 % of that and 2 %
/// of the same with ρ = .3.
/// </remarks>
internal static class LevelProbabilities
{
    /// <summary>Variations of a level: the four of the grid, then that of an odd month.</summary>
    public const int Ways = 5;

    public const int Cells = LevelGrid.Levels * Ways;

    /// <summary>s = 1/ρ − 1 of each way.</summary>
    private static readonly double[] Sizes =
        [.. Enumerable.Range(0, 4).Select(i => (1 / LevelGrid.Variations[i]) - 1), (1 / LevelGrid.OddVariation) - 1];

    /// <summary>Where the rising products of a level with this mean start: m s.</summary>
    public static void Starts(int level, double mean, Span<double> starts)
    {
        for (var way = 0; way < Ways; way++)
            starts[(level * Ways) + way] = mean * Sizes[way];
    }

    /// <summary>The probabilities, the largest set to 1.</summary>
    /// <param name="count">Events and cases.</param>
    /// <param name="bad">ln Π(a+i, i&lt;x) by level and way.</param>
    /// <param name="good">ln Π(b+i, i&lt;n−x) likewise.</param>
    public static Vector256<double>[] Find(EventCount count, ReadOnlySpan<double> bad, ReadOnlySpan<double> good)
    {
        var made = new Vector256<double>[LevelGrid.Levels];
        if (count.Cases == 0)
        {
            Array.Fill(made, Vector256<double>.One);
            return made;
        }
        Span<double> all = stackalloc double[Ways], logs = stackalloc double[Cells];
        for (var way = 0; way < Ways; way++)
            all[way] = Rising.Log(Sizes[way], count.Cases);
        var most = double.NegativeInfinity;
        for (var cell = 0; cell < Cells; cell++)
            most = Math.Max(most, logs[cell] = bad[cell] + good[cell] - all[cell % Ways]);
        for (var level = 0; level < LevelGrid.Levels; level++)
        {
            var of = logs.Slice(level * Ways, Ways);
            var odd = LevelGrid.OddShare * Math.Exp(of[4] - most);
            made[level] = (Vector256.Create(1 - LevelGrid.OddShare)
                * Vector256.Create(Math.Exp(of[0] - most), Math.Exp(of[1] - most), Math.Exp(of[2] - most), Math.Exp(of[3] - most)))
                + Vector256.Create(odd);
        }
        return made;
    }
}
