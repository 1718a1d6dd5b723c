using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>
/// The statistic of <see cref="ChangeOdds"/> month by month: first a history, then its reports. Can be used again for another history, by
/// one thread.
/// </summary>
internal sealed class ChangeWalk
{
    /// <summary>Where a sum is cut, long after every limit, so that no product overflows.</summary>
    public const double Most = 1e200;

    private readonly ChangeOddsOptions _options;
    private readonly double[] _logWeights, _weights;
    private readonly double[][] _sums;

    /// <summary>The next month, 0-based, history first.</summary>
    private int _month;

    public ChangeWalk(ChangeOddsOptions options)
        : this(options, new ChangeGrid(options))
    {
    }

    public ChangeWalk(ChangeOddsOptions options, IChangeCells grid)
    {
        _options = options;
        Grid = grid;
        (_logWeights, _weights) = (new double[Grid.Cells], new double[Grid.Cells]);
        _sums = [.. Enumerable.Range(0, Grid.Alternatives).Select(_ => new double[Grid.Cells])];
    }

    public IChangeCells Grid { get; }

    /// <summary>Weight of each cell after every month so far; they sum to 1.</summary>
    public ReadOnlySpan<double> Weights => _weights;

    /// <summary>Takes in a history of bad events and eligible cases, month by month.</summary>
    public void Begin(ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible)
    {
        long events = 0, cases = 0;
        for (var month = 0; month < bad.Length; month++)
            (events, cases) = (events + bad[month], cases + eligible[month]);
        Grid.Centre(events, cases, bad.Length, _logWeights);
        for (_month = 0; _month < bad.Length; _month++)
            Grid.Weigh(_month, bad[_month], eligible[_month], _logWeights);
        foreach (var sum in _sums)
            Array.Fill(sum, _options.HeadStart);
        Normalise();
    }

    /// <summary>Takes in a report and gives the two parts of S, for the worse and for the better.</summary>
    /// <param name="bad">Bad events.</param>
    /// <param name="eligible">Eligible cases.</param>
    /// <param name="like">A month that had the same case mix, 0-based, history first; null: the next month's own.</param>
    public (double Worse, double Better) Report(int bad, int eligible, int? like = null)
    {
        var month = like ?? _month;
        Grid.Weigh(month, bad, eligible, _logWeights);
        Normalise();
        var ratios = _options.OddsRatios.Length;
        Span<double> parts = stackalloc double[2];
        for (var alternative = 0; alternative < Grid.Alternatives; alternative++)
        {
            var (x, from, y, to) = Grid.Likelihood(alternative, month, bad, eligible);
            parts[alternative / ratios] += Step(_sums[alternative], x.AsSpan(from, Grid.Cells), y.AsSpan(to, Grid.Cells), _weights);
        }
        _month++;
        return (parts[0] * _options.WorseWeight / ratios, parts[1] * (1 - _options.WorseWeight) / ratios);
    }

    /// <summary>
    /// R becomes (R + 1) times the likelihood ratio in every cell; gives the weighted sum. Four lanes, always added in the same order.
    /// </summary>
    private static double Step(Span<double> sums, ReadOnlySpan<double> x, ReadOnlySpan<double> y, ReadOnlySpan<double> weights)
    {
        var total = Vector256<double>.Zero;
        for (var cell = 0; cell < sums.Length; cell += 4)
        {
            var next =
                (Vector256.Create(sums[cell..]) + Vector256<double>.One) * (Vector256.Create(x[cell..]) * Vector256.Create(y[cell..]));
            next = Vector256.Min(next, Vector256.Create(Most));
            next.CopyTo(sums[cell..]);
            total += next * Vector256.Create(weights[cell..]);
        }
        return total[0] + total[1] + (total[2] + total[3]);
    }

    /// <summary>Where the walk stands, to be taken up again with <see cref="Restore"/> under the same history.</summary>
    public double[][] Save() => [[.. _logWeights], .. _sums.Select(sum => (double[])[.. sum]), [_month]];

    public void Restore(double[][] saved)
    {
        saved[0].CopyTo(_logWeights, 0);
        for (var alternative = 0; alternative < _sums.Length; alternative++)
            saved[alternative + 1].CopyTo(_sums[alternative], 0);
        _month = (int)saved[^1][0];
    }

    /// <summary>Posterior mean of the variation ρ.</summary>
    public double Variation()
    {
        var mean = 0.0;
        for (var cell = 0; cell < Grid.Used; cell++)
            mean += _weights[cell] * _options.Variations[cell % _options.Variations.Length];
        return mean;
    }

    private void Normalise()
    {
        var most = double.NegativeInfinity;
        foreach (var log in _logWeights)
            most = Math.Max(most, log);
        var sum = 0.0;
        for (var cell = 0; cell < _weights.Length; cell++)
            sum += _weights[cell] = Math.Exp(_logWeights[cell] - most);
        for (var cell = 0; cell < _weights.Length; cell++)
            _weights[cell] /= sum;
    }
}
