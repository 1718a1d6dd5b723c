using MathNet.Numerics.LinearAlgebra;
using Outcomes.Statistics;

namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>
/// How the standardised columns go together: their covariance, rebuilt from principal directions, and the precision that belongs to it.
/// </summary>
/// <remarks>
/// Missing cells are filled in rounds: each round fits the directions to the filled records, and draws each missing cell anew from what the
/// model expects given the others and from the spread that this leaves. Drawing, not only expecting, keeps the spread of a column that is
/// often missing. Values beyond <see cref="Clip"/> spreads are pulled in for the fit, never for the judgement.
/// </remarks>
internal sealed class JointModel
{
    public const string Source = "Tanner MA, Wong WH. J Am Stat Assoc 1987;82:528-540 (filling by draws; citation from memory)";

    private const double Clip = 4;
    private const int Rounds = 5;
    private const int Sweeps = 2;

    // Keeps two columns that say the same from giving a residual of nothing at all.
    private const double LeastOwnSpread = 0.02;

    private readonly double[,] _covariance;

    private JointModel(double[,] covariance) => _covariance = covariance;

    /// <summary>Fits the model to standardised rows, in which a missing cell is <see cref="double.NaN"/>.</summary>
    public static JointModel Fit(IReadOnlyList<double[]> rows, double rank, int seed)
    {
        var columns = rows[0].Length;
        var kept = Math.Clamp((int)Math.Ceiling(rank * columns), 1, columns);
        double[][] filled =
            [.. rows.Select(row => Array.ConvertAll(row, value => double.IsNaN(value) ? 0 : Math.Clamp(value, -Clip, Clip)))];
        var anyMissing = rows.Any(row => row.Any(double.IsNaN));
        var draw = new NormalDraws(SplitMix64.Uniform(unchecked((ulong)seed)));
        var model = Of(filled, kept, seed);
        for (var round = 1; anyMissing && round < Rounds; round++)
        {
            Fill(rows, filled, model, draw);
            model = Of(filled, kept, seed);
        }

        return model;
    }

    /// <summary>The precision of the columns that one record knows, in their order.</summary>
    public Matrix<double> Precision(IReadOnlyList<int> known) =>
        Matrix<double>.Build.Dense(known.Count, known.Count, (i, j) => _covariance[known[i], known[j]]).Cholesky()
            .Solve(Matrix<double>.Build.DenseIdentity(known.Count));

    public double Variance(int column) => _covariance[column, column];

    private static JointModel Of(double[][] filled, int rank, int seed)
    {
        var columns = filled[0].Length;
        var directions = PrincipalDirections.Fit(filled, rank, seed);
        double[] means = [.. Enumerable.Range(0, columns).Select(j => filled.Average(row => row[j]))];
        var covariance = new double[columns, columns];
        foreach (var direction in directions)
        {
            var along = filled.Sum(row => Square(Along(row, means, direction))) / filled.Length;
            for (var i = 0; i < columns; i++)
                for (var j = 0; j < columns; j++)
                    covariance[i, j] += along * direction[i] * direction[j];
        }

        // What the kept directions leave of a column's variance is its own.
        for (var j = 0; j < columns; j++)
            covariance[j, j] =
                Math.Max(covariance[j, j] * (1 + LeastOwnSpread), filled.Sum(row => Square(row[j] - means[j])) / filled.Length);
        return new(covariance);
    }

    private static void Fill(IReadOnlyList<double[]> rows, double[][] filled, JointModel model, NormalDraws draw)
    {
        var columns = rows[0].Length;
        var precision = model.Precision([.. Enumerable.Range(0, columns)]);
        for (var sweep = 0; sweep < Sweeps; sweep++)
            for (var i = 0; i < filled.Length; i++)
                for (var j = 0; j < columns; j++)
                    if (double.IsNaN(rows[i][j]))
                    {
                        var own = precision[j, j];
                        var pull = 0.0;
                        for (var k = 0; k < columns; k++)
                            pull += k == j ? 0 : precision[j, k] * filled[i][k];
                        filled[i][j] = Math.Clamp((-pull / own) + (draw.Next() / Math.Sqrt(own)), -Clip, Clip);
                    }
    }

    private static double Along(double[] row, double[] means, double[] direction)
    {
        var sum = 0.0;
        for (var j = 0; j < row.Length; j++)
            sum += (row[j] - means[j]) * direction[j];
        return sum;
    }

    private static double Square(double value) => value * value;
}
