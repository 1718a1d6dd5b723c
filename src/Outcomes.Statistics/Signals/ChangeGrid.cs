namespace Outcomes.Statistics;

/// <summary>
/// The cells of <see cref="ChangeOdds"/>: a baseline rate θ and a month-to-month variation ρ each, with the beta-binomial probabilities of
/// a month in every cell, unchanged and changed. Made anew for each history; the memory is kept.
/// </summary>
/// <remarks>
/// A month of x bad in n has the probability Π(a+i, i&lt;x) Π(b+i, i&lt;n−x) / Π(s+i, i&lt;n) times a factor that is the same in
/// all cells, where s = 1/ρ − 1, a = θs, b = (1−θ)s. Products for up to 256 come from tables, larger ones from the gamma function.
/// </remarks>
internal sealed class ChangeGrid : IChangeCells
{
    private readonly ChangeOddsOptions _options;
    private readonly double[] _a, _b, _s;
    private readonly double[][] _changedA, _changedB;
    private readonly Table _logBad, _logGood, _logAll;
    private readonly Table[] _ratioBad, _ratioGood;
    private readonly double[] _bad, _good;

    public ChangeGrid(ChangeOddsOptions options)
    {
        _options = options;
        Used = options.GridPoints * options.Variations.Length;
        // Whole vectors of four: a cell too many repeats the last one with weight 0.
        Cells = (Used + 3) / 4 * 4;
        Alternatives = 2 * options.OddsRatios.Length;
        (_a, _b, _s) = (new double[Cells], new double[Cells], new double[Cells]);
        (_bad, _good) = (new double[Cells], new double[Cells]);
        (_changedA, _changedB) = (Rows(Alternatives), Rows(Alternatives));
        (_logBad, _logGood, _logAll) = (new(Cells), new(Cells), new(Cells));
        _ratioBad = [.. Enumerable.Range(0, Alternatives).Select(_ => new Table(Cells))];
        _ratioGood = [.. Enumerable.Range(0, Alternatives).Select(_ => new Table(Cells))];
    }

    public int Cells { get; }

    public int Used { get; }

    public int Alternatives { get; }

    /// <summary>
    /// Centres the grid on a history and sets the log weights to the prior: Jeffreys Beta(½, ½) for θ, on the scale of its log odds.
    /// </summary>
    public void Centre(long bad, long eligible, int months, Span<double> logWeights)
    {
        var p = (bad + 0.5) / (eligible + 1);
        var error = Error(p, eligible, months);
        var variations = _options.Variations.Length;
        for (var cell = 0; cell < Cells; cell++)
        {
            var (point, variation) = Math.DivRem(Math.Min(cell, Used - 1), variations);
            var z = Point(_options, point);
            var odds = p / (1 - p) * Math.Exp(error * z);
            var s = (1 / _options.Variations[variation]) - 1;
            (_s[cell], _a[cell], _b[cell]) = (s, s * odds / (1 + odds), s / (1 + odds));
            logWeights[cell] = cell < Used
                ? (0.5 * Math.Log(odds)) - Math.Log(1 + odds) + Math.Log(_options.VariationWeights[variation])
                : double.NegativeInfinity;
            for (var alternative = 0; alternative < Alternatives; alternative++)
            {
                var changed = odds * Ratio(_options, alternative);
                (_changedA[alternative][cell], _changedB[alternative][cell]) = (s * changed / (1 + changed), s / (1 + changed));
            }
        }
        _logBad.Clear(0);
        _logGood.Clear(0);
        _logAll.Clear(0);
        foreach (var table in (Table[])[.. _ratioBad, .. _ratioGood])
            table.Clear(1);
    }

    /// <summary>The standard error of a history's log odds, at most 0.8, with room for a variation of ρ = .02.</summary>
    public static double Error(double p, long eligible, int months) =>
        Math.Min(0.8, Math.Sqrt((1 + (0.02 * eligible / months)) / ((eligible + 1.5) * p * (1 - p))));

    /// <summary>How many standard errors a point of the grid lies from the history's log odds.</summary>
    public static double Point(ChangeOddsOptions options, int point) =>
        options.GridPoints == 1 ? 0 : options.GridReach * ((2.0 * point / (options.GridPoints - 1)) - 1);

    /// <summary>The odds ratio of an alternative, below 1 for the better.</summary>
    public static double Ratio(ChangeOddsOptions options, int alternative)
    {
        var ratios = options.OddsRatios;
        return alternative < ratios.Length ? ratios[alternative] : 1 / ratios[alternative - ratios.Length];
    }

    public void Weigh(int month, long bad, long eligible, Span<double> logWeights)
    {
        ReadOnlySpan<double> x = LogRow(_logBad, _a, bad, _bad), y = LogRow(_logGood, _b, eligible - bad, _good);
        for (var cell = 0; cell < Used; cell++)
            logWeights[cell] += x[cell] + y[cell];
        var all = LogRow(_logAll, _s, eligible, _bad);
        for (var cell = 0; cell < Used; cell++)
            logWeights[cell] -= all[cell];
    }

    public (double[] Bad, int BadFrom, double[] Good, int GoodFrom) Likelihood(int alternative, int month, long bad, long eligible)
    {
        var good = eligible - bad;
        if (bad <= Rising.MostFactors && good <= Rising.MostFactors)
            return (
                _ratioBad[alternative].Grow((int)bad, _a, _changedA[alternative]), (int)bad * Cells,
                _ratioGood[alternative].Grow((int)good, _b, _changedB[alternative]), (int)good * Cells);
        for (var cell = 0; cell < Cells; cell++)
        {
            var log = Rising.Log(_changedA[alternative][cell], bad) - Rising.Log(_a[cell], bad)
                + Rising.Log(_changedB[alternative][cell], good) - Rising.Log(_b[cell], good);
            (_bad[cell], _good[cell]) = (Math.Exp(Math.Clamp(log, -400, 400)), 1);
        }
        return (_bad, 0, _good, 0);
    }

    public double? Expected(int month) => null;

    private ReadOnlySpan<double> LogRow(Table table, double[] start, long count, double[] spare)
    {
        if (count <= Rising.MostFactors)
            return table.GrowLog((int)count, start).AsSpan((int)count * Cells, Cells);
        for (var cell = 0; cell < Cells; cell++)
            spare[cell] = Rising.Log(start[cell], count);
        return spare;
    }

    private double[][] Rows(int rows) => [.. Enumerable.Range(0, rows).Select(_ => new double[Cells])];

    /// <summary>A row of cells for each count from 0, filled as far as it was asked for.</summary>
    private sealed class Table(int cells)
    {
        private double[] _values = new double[32 * cells];
        private int _rows;

        public void Clear(double first)
        {
            _values.AsSpan(0, cells).Fill(first);
            _rows = 1;
        }

        /// <summary>Row k holds Π (changed + i)/(unchanged + i) over i below k.</summary>
        public double[] Grow(int row, double[] unchanged, double[] changed)
        {
            Reserve(row);
            for (; _rows <= row; _rows++)
            {
                Span<double> last = _values.AsSpan((_rows - 1) * cells, cells), next = _values.AsSpan(_rows * cells, cells);
                for (var cell = 0; cell < cells; cell++)
                    next[cell] = last[cell] * ((changed[cell] + _rows - 1) / (unchanged[cell] + _rows - 1));
            }
            return _values;
        }

        /// <summary>Row k holds Σ ln(start + i) over i below k.</summary>
        public double[] GrowLog(int row, double[] start)
        {
            Reserve(row);
            for (; _rows <= row; _rows++)
            {
                Span<double> last = _values.AsSpan((_rows - 1) * cells, cells), next = _values.AsSpan(_rows * cells, cells);
                for (var cell = 0; cell < cells; cell++)
                    next[cell] = last[cell] + Math.Log(start[cell] + _rows - 1);
            }
            return _values;
        }

        private void Reserve(int row)
        {
            if ((row + 1) * cells > _values.Length)
                Array.Resize(ref _values, Math.Max((row + 1) * cells, 2 * _values.Length));
        }
    }
}
