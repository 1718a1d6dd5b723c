using System.Collections.Immutable;
using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>
/// The same where the expected chance of each case is known: a level is a shift of the log odds of all cases alike, and m is the mean
/// chance of the month's own cases. For one thread.
/// </summary>
internal sealed class MixLikelihood : ILevelLikelihood
{
    private readonly Dictionary<(int Month, int Events), Vector256<double>[]> _known = [];

    /// <summary>Odds against the event, (1 − p)/p, of each case, in order of size, so that the order of cases cannot move a last
    /// bit.</summary>
    private readonly double[][] _oddsAgainst;

    /// <summary>Mean chance by month, then level; null until asked for.</summary>
    private readonly double[]?[] _means;

    private readonly double[] _prior = new double[LevelGrid.Levels], _rates, _edges = new double[LevelGrid.Levels + 1];
    private readonly double[] _bad = new double[LevelProbabilities.Cells], _good = new double[LevelProbabilities.Cells];

    /// <param name="expected">For each month, history first, the chance of each case, above 0 and below 1.</param>
    /// <param name="history">Months of history.</param>
    public MixLikelihood(IReadOnlyList<ImmutableArray<double>> expected, int history)
    {
        _oddsAgainst = [.. expected.Select(month => month.Order().Select(chance => (1 - chance) / chance).ToArray())];
        _means = new double[expected.Count][];
        double[] past = [.. _oddsAgainst.Take(history).SelectMany(month => month)];
        _rates = Means(past);
        for (var level = 0; level < LevelGrid.Levels; level++)
            _prior[level] = Math.Sqrt(_rates[level] * (1 - _rates[level]));
        for (var edge = 0; edge < _edges.Length; edge++)
            _edges[edge] = LogOf(Mean(past, LevelGrid.LowestShift + (LevelGrid.Step * (edge - 0.5))));
    }

    public ReadOnlySpan<double> Prior => _prior;

    public ReadOnlySpan<double> Rates => _rates;

    public ReadOnlySpan<double> Edges => _edges;

    public double Mean(int month, int level) => (_means[month] ??= Means(_oddsAgainst[month]))[level];

    public Vector256<double>[] Find(int month, EventCount count)
    {
        if (_known.TryGetValue((month, count.Events), out var known))
            return known;
        if (count.Cases > 0)
            for (var level = 0; level < LevelGrid.Levels; level++)
            {
                var mean = Mean(month, level);
                LevelProbabilities.Starts(level, mean, _bad);
                LevelProbabilities.Starts(level, 1 - mean, _good);
            }
        for (var cell = 0; cell < LevelProbabilities.Cells && count.Cases > 0; cell++)
        {
            _bad[cell] = Rising.LogInBlocks(_bad[cell], count.Events);
            _good[cell] = Rising.LogInBlocks(_good[cell], count.Cases - count.Events);
        }
        return _known[(month, count.Events)] = LevelProbabilities.Find(count, _bad, _good);
    }

    /// <summary>The mean chance of a month's cases once the log odds of all are shifted.</summary>
    public double MeanAt(int month, double shift) => Mean(_oddsAgainst[month], shift);

    private static double[] Means(double[] oddsAgainst) =>
        [.. Enumerable.Range(0, LevelGrid.Levels)
            .Select(level => Mean(oddsAgainst, LevelGrid.LowestShift + (LevelGrid.Step * level)))];

    /// <summary>The mean chance once the log odds of all cases are shifted; ½ without cases, where nothing asks for it.</summary>
    private static double Mean(double[] oddsAgainst, double shift)
    {
        if (oddsAgainst.Length == 0)
            return 0.5;
        var (factor, sum) = (Math.Exp(-shift), 0.0);
        foreach (var odds in oddsAgainst)
            sum += 1 / (1 + (odds * factor));
        return sum / oddsAgainst.Length;
    }

    private static double LogOf(double chance) => Math.Log(chance / (1 - chance));
}
