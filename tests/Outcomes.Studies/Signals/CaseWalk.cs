using System.Runtime.Intrinsics;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>
/// The statistic of the change odds taken in case by case, which the shipped one is not: with the months' counts alone it gives the same
/// numbers, and it can also add up starts at each case, and know what each month's mix of cases lets expect.
/// </summary>
/// <remarks>
/// The urn: after x bad of i cases in a month, the next is bad with probability (a + x)/(s + i). With strata, a cell's θ is a shift of the
/// log odds of all strata, and a = s times the mean chance over the month's own mix. For the odds ratios of the default only (one).
/// </remarks>
internal sealed class CaseWalk
{
    private readonly ChangeOddsOptions _options;
    private readonly double[] _offsets;
    private readonly int _cells, _points;
    private readonly double[] _weights, _s;
    private readonly double[][] _a = new double[3][], _b = new double[3][], _sums = new double[2][];

    /// <summary>Chance in each stratum at each grid point: unchanged, worse, better.</summary>
    private readonly double[][,] _chances;

    private double _start;

    public CaseWalk(ChangeOddsOptions options, ReadOnlySpan<double> offsets)
    {
        _options = options;
        _offsets = [.. offsets];
        _points = options.GridPoints;
        _cells = _points * options.Variations.Length;
        if (_cells % 4 != 0 || options.OddsRatios.Length != 1)
            throw new ArgumentException("one odds ratio, and whole vectors of four cells", nameof(options));
        (_weights, _s) = (new double[_cells], new double[_cells]);
        for (var way = 0; way < 3; way++)
            (_a[way], _b[way]) = (new double[_cells], new double[_cells]);
        (_sums[0], _sums[1]) = (new double[_cells], new double[_cells]);
        _chances = [new double[_points, offsets.Length], new double[_points, offsets.Length], new double[_points, offsets.Length]];
        for (var cell = 0; cell < _cells; cell++)
            _s[cell] = (1 / options.Variations[cell % options.Variations.Length]) - 1;
    }

    /// <summary>Takes these log odds of the strata from now on.</summary>
    public void Know(ReadOnlySpan<double> offsets) => offsets.CopyTo(_offsets);

    /// <summary>Takes in a history: bad events a month, and cases a month and stratum.</summary>
    public void Begin(ReadOnlySpan<int> bad, ReadOnlySpan<int> cases)
    {
        var mix = new double[_offsets.Length];
        for (var i = 0; i < cases.Length; i++)
            mix[i % mix.Length] += cases[i];
        double eligible = mix.Sum(), events = 0;
        foreach (var month in bad)
            events += month;
        var p = (events + 0.5) / (eligible + 1);
        var error = Math.Min(0.8, Math.Sqrt((1 + (0.02 * eligible / bad.Length)) / ((eligible + 1.5) * p * (1 - p))));
        var centre = Mix.Intercept(p, _offsets, mix);
        for (var point = 0; point < _points; point++)
        {
            var logOdds = centre + (error * _options.GridReach * ((2.0 * point / (_points - 1)) - 1));
            for (var way = 0; way < 3; way++)
                for (var stratum = 0; stratum < mix.Length; stratum++)
                    _chances[way][point, stratum] = Mix.Chance(logOdds + _offsets[stratum]
                        + (way == 0 ? 0 : way == 1 ? Math.Log(_options.OddsRatios[0]) : -Math.Log(_options.OddsRatios[0])));
            var mean = Mix.Mean(logOdds, _offsets, mix);
            for (var variation = 0; variation < _options.Variations.Length; variation++)
                _weights[(point * _options.Variations.Length) + variation] =
                    Math.Sqrt(mean * (1 - mean)) * _options.VariationWeights[variation];
        }
        Array.Fill(_sums[0], _options.HeadStart);
        Array.Fill(_sums[1], _options.HeadStart);
        _start = bad.Length / eligible;
        Mean(mix);
        for (var month = 0; month < bad.Length; month++)
        {
            var strata = cases.Slice(month * mix.Length, mix.Length);
            if (mix.Length > 1)
                Mean(strata);
            int x = 0, i = 0;
            foreach (var number in strata)
                for (var left = number; left > 0; left--, i++)
                    Weigh(x < bad[month], x < bad[month] ? x++ : i - x, i);
            Normalise();
        }
    }

    /// <summary>Takes in a report by its counts, a change starting with a month: S at its end.</summary>
    public double Report(int bad, ReadOnlySpan<int> strata)
    {
        Mean(strata);
        var cases = 0;
        foreach (var number in strata)
            cases += number;
        Add(1);
        for (var i = 0; i < cases; i++)
            Step(i < bad, i < bad ? i : i - bad, i);
        return Normalise();
    }

    /// <summary>
    /// Takes in a report case by case, in order, a change starting with any case: S at its end, and the largest S after any of its cases.
    /// </summary>
    public (double End, double Most) Cases(ReadOnlySpan<bool> bad)
    {
        var (x, most, end) = (0, 0.0, 0.0);
        for (var i = 0; i < bad.Length; i++)
        {
            Add(_start);
            Step(bad[i], bad[i] ? x : i - x, i);
            if (bad[i])
                x++;
            most = Math.Max(most, end = Normalise());
        }
        return bad.Length == 0 && Normalise() is var same ? (same, same) : (end, most);
    }

    private void Add(double starts)
    {
        foreach (var sum in _sums)
            for (var cell = 0; cell < _cells; cell++)
                sum[cell] += starts;
    }

    /// <summary>One stratum keeps what it has; several give a month the mean of their chances.</summary>
    private void Mean(ReadOnlySpan<int> strata)
    {
        if (_offsets.Length == 1)
            return;
        Span<double> mix = stackalloc double[strata.Length];
        for (var stratum = 0; stratum < strata.Length; stratum++)
            mix[stratum] = strata[stratum];
        Mean(mix);
    }

    private void Mean(ReadOnlySpan<double> mix)
    {
        var all = 0.0;
        foreach (var part in mix)
            all += part;
        if (all == 0)
            return;
        var variations = _options.Variations.Length;
        for (var way = 0; way < 3; way++)
            for (var point = 0; point < _points; point++)
            {
                var mean = 0.0;
                for (var stratum = 0; stratum < mix.Length; stratum++)
                    mean += mix[stratum] * _chances[way][point, stratum];
                mean /= all;
                for (var cell = point * variations; cell < (point + 1) * variations; cell++)
                    (_a[way][cell], _b[way][cell]) = (_s[cell] * mean, _s[cell] * (1 - mean));
            }
    }

    private void Weigh(bool bad, int before, int cases)
    {
        var side = bad ? _a[0] : _b[0];
        for (var cell = 0; cell < _cells; cell += 4)
        {
            var weight =
                Vector256.LoadUnsafe(ref _weights[cell]) * (Vector256.LoadUnsafe(ref side[cell]) + Vector256.Create((double)before))
                    / (Vector256.LoadUnsafe(ref _s[cell]) + Vector256.Create((double)cases));
            weight.StoreUnsafe(ref _weights[cell]);
        }
    }

    private void Step(bool bad, int before, int cases)
    {
        Weigh(bad, before, cases);
        var sides = bad ? _a : _b;
        var count = Vector256.Create((double)before);
        for (var cell = 0; cell < _cells; cell += 4)
        {
            var unchanged = Vector256<double>.One / (Vector256.LoadUnsafe(ref sides[0][cell]) + count);
            for (var way = 0; way < 2; way++)
            {
                var next =
                    Vector256.LoadUnsafe(ref _sums[way][cell]) * ((Vector256.LoadUnsafe(ref sides[way + 1][cell]) + count) * unchanged);
                Vector256.Min(next, Vector256.Create(1e200)).StoreUnsafe(ref _sums[way][cell]);
            }
        }
    }

    /// <summary>Weights that sum to 1, and S.</summary>
    private double Normalise()
    {
        var (all, worse, better) = (Vector256<double>.Zero, Vector256<double>.Zero, Vector256<double>.Zero);
        for (var cell = 0; cell < _cells; cell += 4)
        {
            var weight = Vector256.LoadUnsafe(ref _weights[cell]);
            all += weight;
            worse += weight * Vector256.LoadUnsafe(ref _sums[0][cell]);
            better += weight * Vector256.LoadUnsafe(ref _sums[1][cell]);
        }
        var sum = Vector256.Sum(all);
        var scale = Vector256.Create(1 / sum);
        for (var cell = 0; cell < _cells; cell += 4)
            (Vector256.LoadUnsafe(ref _weights[cell]) * scale).StoreUnsafe(ref _weights[cell]);
        return ((_options.WorseWeight * Vector256.Sum(worse)) + ((1 - _options.WorseWeight) * Vector256.Sum(better))) / sum;
    }
}
