using System.Collections.Immutable;

namespace Outcomes.CaseMix;

/// <summary>One model of <see cref="PatternModels"/>: some of the columns, fitted to all records that know these.</summary>
internal sealed class PatternModel
{
    private const char Known = '1', Unknown = '0';

    private readonly LogisticProblem _problem;
    private readonly double[] _scaled, _beta;
    private LogisticFit? _fit;

    private PatternModel(string pattern, IReadOnlyList<double[]> rows, IReadOnlyList<bool> met)
    {
        (Pattern, Columns) = (pattern, [.. Enumerable.Range(0, pattern.Length).Where(j => pattern[j] == Known)]);
        Records = [.. Enumerable.Range(0, rows.Count).Where(i => Columns.All(j => !double.IsNaN(rows[i][j])))];
        bool[] own = [.. Records.Select(i => met[i])];
        _problem = new([.. Records.Select(i => Columns.Select(j => rows[i][j]).ToArray())], own) { Ridge = Ridge.Penalty };
        _scaled = Ridge.Find(_problem, own, new double[_problem.Columns], 1e-10);
        _beta = _problem.Back(_scaled);
    }

    public string Pattern { get; }

    public ImmutableArray<int> Columns { get; }

    /// <summary>The records that it was fitted to, by index.</summary>
    public ImmutableArray<int> Records { get; }

    public static PatternModel Fit(string pattern, IReadOnlyList<double[]> rows, IReadOnlyList<bool> met) => new(pattern, rows, met);

    /// <summary>A character a column: which of them a row knows.</summary>
    public static string Of(double[] row) =>
        string.Create(row.Length, row, (text, values) =>
        {
            for (var j = 0; j < text.Length; j++)
                text[j] = double.IsNaN(values[j]) ? Unknown : Known;
        });

    public static string All(int columns, bool known) => new(known ? Known : Unknown, columns);

    public LogisticFit Fit() => _fit ??= Ridge.Report(_problem, _scaled);

    public double LogOdds(double[] row)
    {
        var sum = _beta[0];
        for (var j = 0; j < Columns.Length; j++)
            sum += _beta[j + 1] * row[Columns[j]];
        return sum;
    }

    public double[] Zero() => new double[Columns.Length + 1];

    /// <summary>Adds a weight times a row, its intercept first.</summary>
    public void Add(double[] sum, double[] row, double weight)
    {
        sum[0] += weight;
        for (var j = 0; j < Columns.Length; j++)
            sum[j + 1] += weight * row[Columns[j]];
    }

    /// <summary>Adds gradient' H⁻¹ x to each record that the model was fitted to.</summary>
    public void Influence(double[] gradient, IReadOnlyList<double[]> rows, double[] influence)
    {
        if (gradient.All(value => value == 0))
            return;
        var covariance = Fit().Covariance;
        double[] along = [.. covariance.Select(row => row.Zip(gradient, (a, b) => a * b).Sum())];
        foreach (var i in Records)
        {
            var sum = along[0];
            for (var j = 0; j < Columns.Length; j++)
                sum += along[j + 1] * rows[i][Columns[j]];
            influence[i] += sum;
        }
    }

    /// <summary>The log odds of its records, fitted to other outcomes.</summary>
    public void Refit(IReadOnlyList<bool> met, Action<int, double> found)
    {
        bool[] own = [.. Records.Select(i => met[i])];
        // The last step is of this length at most, so that what is left is about its square.
        var beta = Ridge.Find(_problem.With(own), own, _scaled, 1e-3);
        for (var at = 0; at < Records.Length; at++)
            found(Records[at], _problem.Linear(at, beta));
    }
}
