using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>
/// Beta-binomial probabilities of a month's events at every level, from counts alone. The same count is worked out once. For one thread.
/// </summary>
internal sealed class CountLikelihood : ILevelLikelihood
{
    private const int MostKept = 160;
    private readonly Dictionary<EventCount, Vector256<double>[]> _known = [];
    private readonly Table _bad = new(), _good = new();
    private readonly double[] _prior = new double[LevelGrid.Levels], _rates = new double[LevelGrid.Levels];
    private readonly double[] _edges = new double[LevelGrid.Levels + 1];

    public CountLikelihood()
    {
        for (var level = 0; level < LevelGrid.Levels; level++)
        {
            var logOdds = LevelGrid.LowestRate + (LevelGrid.Step * level);
            var (rate, rest) = (LogOdds.Proportion(logOdds), LogOdds.Proportion(-logOdds));
            _rates[level] = rate;
            _prior[level] = Math.Sqrt(rate * rest);
            _bad.Set(level, rate);
            _good.Set(level, rest);
        }
        for (var edge = 0; edge < _edges.Length; edge++)
            _edges[edge] = LevelGrid.LowestRate + (LevelGrid.Step * (edge - 0.5));
    }

    public ReadOnlySpan<double> Prior => _prior;

    public ReadOnlySpan<double> Rates => _rates;

    public ReadOnlySpan<double> Edges => _edges;

    public double Mean(int month, int level) => _rates[level];

    public Vector256<double>[] Find(int month, EventCount count)
    {
        if (_known.TryGetValue(count, out var known))
            return known;
        var made = LevelProbabilities.Find(count, _bad.Find(count.Events), _good.Find(count.Cases - count.Events));
        if (count.Cases <= MostKept)
            _known[count] = made;
        return made;
    }

    /// <summary>Logarithms of rising products at every level and variation for each count from 0, filled as far as asked for.</summary>
    private sealed class Table
    {
        private readonly double[] _starts = new double[LevelProbabilities.Cells];
        private readonly List<double[]> _rows = [new double[LevelProbabilities.Cells]];

        public void Set(int level, double mean) => LevelProbabilities.Starts(level, mean, _starts);

        public double[] Find(int count)
        {
            if (count > Rising.MostFactors)
                return [.. _starts.Select(start => Rising.Log(start, count))];
            for (var row = _rows.Count; row <= count; row++)
            {
                var (next, last) = (new double[LevelProbabilities.Cells], _rows[row - 1]);
                for (var cell = 0; cell < next.Length; cell++)
                    next[cell] = last[cell] + Math.Log(_starts[cell] + row - 1);
                _rows.Add(next);
            }
            return _rows[count];
        }
    }
}
