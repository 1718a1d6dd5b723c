using System.Collections.Immutable;
using MathNet.Numerics.RootFinding;

namespace Outcomes.Statistics;

/// <summary>
/// The cells of <see cref="ChangeOdds"/> where the expected chance of each case is known. Chances of each cell and month are
/// worked out once, when the history closes.
/// </summary>
/// <remarks>
/// A case of expected chance p has the log odds ln(p/(1−p)) + δ. A cell is a shift δ of all cases alike, with a variation ρ; a change
/// multiplies the odds of every case. With m the mean chance of a month's cases in a cell, its bad events are beta-binomial with a = s m, b
/// = s (1 − m), s = 1/ρ − 1. Within a month the events of unlike cases vary a little less than that (a sum of unlike chances has variance
/// Σp(1−p) ≤ n m (1−m)), so it errs on the careful side. The shift δ₀ at which the history has its own rate (x+½)/(n+1) is the middle of
/// the grid, its reach is that of <see cref="ChangeGrid"/>, and the prior is Jeffreys' for the history's mean chance: with one chance for
/// all cases nothing differs from <see cref="ChangeGrid"/>.
/// </remarks>
internal sealed class MixedGrid : IChangeCells
{
    private readonly ChangeOddsOptions _options;
    private readonly double[][] _logOdds;
    private readonly double[] _s;
    private readonly double[] _ones;

    /// <summary>
    /// What was worked out of a month with so many bad events: unchanged, then each alternative. Simulated futures ask for the same again
    /// and again.
    /// </summary>
    private readonly Dictionary<(int Month, long Bad, int Way), double[]> _known = [];

    /// <summary>Mean chance by month, then by way (unchanged, then each alternative) and point of the grid.</summary>
    private readonly double[][] _means;

    private readonly double[] _expected;

    /// <param name="options">The constants.</param>
    /// <param name="expected">For each month, history first, the chance of each eligible case, above 0 and below 1.</param>
    public MixedGrid(ChangeOddsOptions options, IReadOnlyList<ImmutableArray<double>> expected)
    {
        _options = options;
        Used = options.GridPoints * options.Variations.Length;
        Cells = (Used + 3) / 4 * 4;
        Alternatives = 2 * options.OddsRatios.Length;
        // In order of size, so that the order of a month's cases cannot move a last bit.
        _logOdds = [.. expected.Select(month => month.Order().Select(LogOf).ToArray())];
        _means = [.. expected.Select(_ => new double[(Alternatives + 1) * options.GridPoints])];
        _expected = new double[expected.Count];
        _ones = [.. Enumerable.Repeat(1.0, Cells)];
        _s = [.. Enumerable.Range(0, Cells)
            .Select(cell => (1 / options.Variations[Math.Min(cell, Used - 1) % options.Variations.Length]) - 1)];
    }

    public int Cells { get; }

    public int Used { get; }

    public int Alternatives { get; }

    public void Centre(long bad, long eligible, int months, Span<double> logWeights)
    {
        _known.Clear();
        var p = (bad + 0.5) / (eligible + 1);
        var error = ChangeGrid.Error(p, eligible, months);
        double[] history = [.. _logOdds.Take(months).SelectMany(month => month)];
        var centre = Shift(p, history);
        double[] shifts = [.. Enumerable.Range(0, _options.GridPoints)
            .Select(point => centre + (error * ChangeGrid.Point(_options, point)))];
        for (var month = 0; month < _logOdds.Length; month++)
        {
            _expected[month] = _logOdds[month].Length * Mean(centre, _logOdds[month]);
            for (var way = 0; way <= Alternatives; way++)
            {
                var change = way == 0 ? 0 : Math.Log(ChangeGrid.Ratio(_options, way - 1));
                for (var point = 0; point < shifts.Length; point++)
                    _means[month][(way * shifts.Length) + point] = Mean(shifts[point] + change, _logOdds[month]);
            }
        }
        double[] means = [.. shifts.Select(shift => Mean(shift, history))];
        for (var cell = 0; cell < Cells; cell++)
        {
            var (point, variation) = Math.DivRem(Math.Min(cell, Used - 1), _options.Variations.Length);
            logWeights[cell] = cell < Used
                ? (0.5 * Math.Log(means[point] * (1 - means[point]))) + Math.Log(_options.VariationWeights[variation])
                : double.NegativeInfinity;
        }
    }

    public void Weigh(int month, long bad, long eligible, Span<double> logWeights)
    {
        var row = Row(month, bad, 0, cell =>
        {
            var mean = At(month, 0, cell);
            return Rising.Log(_s[cell] * mean, bad) + Rising.Log(_s[cell] * (1 - mean), eligible - bad) - Rising.Log(_s[cell], eligible);
        });
        for (var cell = 0; cell < Used; cell++)
            logWeights[cell] += row[cell];
    }

    public (double[] Bad, int BadFrom, double[] Good, int GoodFrom) Likelihood(int alternative, int month, long bad, long eligible)
    {
        var good = eligible - bad;
        return (Row(month, bad, alternative + 1, cell =>
        {
            var (usual, changed) = (At(month, 0, cell), At(month, alternative + 1, cell));
            var log = Rising.Log(_s[cell] * changed, bad) - Rising.Log(_s[cell] * usual, bad)
                + Rising.Log(_s[cell] * (1 - changed), good) - Rising.Log(_s[cell] * (1 - usual), good);
            return Math.Exp(Math.Clamp(log, -400, 400));
        }), 0, _ones, 0);
    }

    public double? Expected(int month) => _expected[month];

    private double[] Row(int month, long bad, int way, Func<int, double> value)
    {
        if (!_known.TryGetValue((month, bad, way), out var row))
            _known[(month, bad, way)] = row = [.. Enumerable.Range(0, Cells).Select(value)];
        return row;
    }

    private double At(int month, int way, int cell) =>
        _means[month][(way * _options.GridPoints) + (Math.Min(cell, Used - 1) / _options.Variations.Length)];

    public static double LogOf(double chance) => Math.Log(chance / (1 - chance));

    /// <summary>The mean chance once all log odds are shifted; ½ without cases, where nothing asks for it.</summary>
    private static double Mean(double shift, double[] logOdds)
    {
        if (logOdds.Length == 0)
            return 0.5;
        var sum = 0.0;
        foreach (var each in logOdds)
            sum += 1 / (1 + Math.Exp(-(each + shift)));
        return sum / logOdds.Length;
    }

    /// <summary>
    /// The shift at which the mean chance is p: it lies between those that the least and the most likely case would need.
    /// </summary>
    public static double Shift(double p, double[] logOdds)
    {
        var at = Math.Log(p / (1 - p));
        var (low, high) = (at - logOdds.Max(), at - logOdds.Min());
        return high - low < 1e-12
            ? (low + high) / 2
            : Brent.FindRoot(shift => Mean(shift, logOdds) - p, low - 1e-9, high + 1e-9, 1e-14, 500);
    }
}
