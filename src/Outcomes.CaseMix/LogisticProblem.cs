namespace Outcomes.CaseMix;

/// <summary>
/// Rows and outcomes as the fitting sees them: an intercept first, every other column centred and scaled, so that no unit of a
/// covariate spoils the arithmetic. Estimates go back to the units of the rows through <see cref="Back(double[])"/>.
/// </summary>
internal sealed class LogisticProblem
{
    private readonly double[] _x;
    private readonly double[] _met;
    private readonly double[]? _offset;
    private readonly double[] _means;
    private readonly double[] _scales;

    public LogisticProblem(IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, IReadOnlyList<double>? offset = null)
    {
        Records = rows.Count;
        Columns = (Records == 0 ? 0 : rows[0].Length) + 1;
        _met = [.. met.Select(value => value ? 1.0 : 0)];
        _offset = offset is null ? null : [.. offset];
        (_means, _scales) = (new double[Columns], new double[Columns]);
        _scales[0] = 1;
        for (var j = 1; j < Columns; j++)
        {
            _means[j] = rows.Average(row => row[j - 1]);
            var spread = Math.Sqrt(rows.Average(row => Math.Pow(row[j - 1] - _means[j], 2)));
            _scales[j] = spread > 0 ? spread : 1;
        }

        _x = new double[Records * Columns];
        for (var i = 0; i < Records; i++)
        {
            _x[i * Columns] = 1;
            for (var j = 1; j < Columns; j++)
                _x[(i * Columns) + j] = (rows[i][j - 1] - _means[j]) / _scales[j];
        }
    }

    private LogisticProblem(LogisticProblem same, IReadOnlyList<bool> met)
    {
        (Records, Columns, Ridge) = (same.Records, same.Columns, same.Ridge);
        (_x, _means, _scales, _offset) = (same._x, same._means, same._scales, same._offset);
        _met = [.. met.Select(value => value ? 1.0 : 0)];
    }

    public int Records { get; }

    public int Columns { get; }

    /// <summary>
    /// λ of the penalty (λ/2) Σ b² on all coefficients but the intercept, each for one standard deviation of its column. 0: none.
    /// </summary>
    public double Ridge { get; init; }

    /// <summary>The same rows with other outcomes.</summary>
    public LogisticProblem With(IReadOnlyList<bool> met) => new(this, met);

    public double Scale(int column) => _scales[column];

    public ReadOnlySpan<double> Row(int record) => _x.AsSpan(record * Columns, Columns);

    /// <summary>+1 for a record that met, −1 for one that did not.</summary>
    public double Side(int record) => (2 * _met[record]) - 1;

    public double Met(int record) => _met[record];

    public double Linear(int record, double[] beta)
    {
        var row = Row(record);
        var sum = _offset?[record] ?? 0;
        for (var j = 0; j < row.Length; j++)
            sum += row[j] * beta[j];
        return sum;
    }

    /// <summary>Log likelihood: Σ y η − ln(1 + e^η).</summary>
    public double LogLikelihood(double[] beta)
    {
        double sum = 0;
        for (var i = 0; i < Records; i++)
        {
            var eta = Linear(i, beta);
            sum += (_met[i] * eta) - (eta > 0 ? eta + Math.Log(1 + Math.Exp(-eta)) : Math.Log(1 + Math.Exp(eta)));
        }

        return sum;
    }

    /// <summary>The ridge's penalty, (λ/2) Σ b².</summary>
    public double Penalty(double[] beta)
    {
        double sum = 0;
        for (var j = 1; j < Columns && Ridge > 0; j++)
            sum += beta[j] * beta[j];
        return Ridge / 2 * sum;
    }

    /// <summary>Information X'WX with W = p (1 − p), and λ on the diagonal but for the intercept's.</summary>
    public double[,] Information(double[] beta)
    {
        var information = new double[Columns, Columns];
        for (var i = 0; i < Records; i++)
        {
            var p = Logit.Chance(Linear(i, beta));
            var weight = p * (1 - p);
            var row = Row(i);
            for (var j = 0; j < Columns; j++)
                for (var k = 0; k <= j; k++)
                    information[j, k] += weight * row[j] * row[k];
        }

        for (var j = 0; j < Columns; j++)
        {
            information[j, j] += j == 0 ? 0 : Ridge;
            for (var k = 0; k < j; k++)
                information[k, j] = information[j, k];
        }

        return information;
    }

    /// <summary>Coefficients in the units of the rows: β = b / s, and the intercept less Σ b m / s.</summary>
    public double[] Back(double[] beta)
    {
        var back = new double[Columns];
        back[0] = beta[0];
        for (var j = 1; j < Columns; j++)
        {
            back[j] = beta[j] / _scales[j];
            back[0] -= beta[j] * _means[j] / _scales[j];
        }

        return back;
    }

    /// <summary>Their covariance, T C T' with T the map of <see cref="Back(double[])"/>.</summary>
    public double[,] Back(double[,] covariance)
    {
        var map = new double[Columns, Columns];
        map[0, 0] = 1;
        for (var j = 1; j < Columns; j++)
            (map[j, j], map[0, j]) = (1 / _scales[j], -_means[j] / _scales[j]);
        var back = new double[Columns, Columns];
        for (var a = 0; a < Columns; a++)
            for (var b = 0; b < Columns; b++)
                for (var j = 0; j < Columns; j++)
                    for (var k = 0; k < Columns; k++)
                        back[a, b] += map[a, j] * covariance[j, k] * map[b, k];
        return back;
    }
}
