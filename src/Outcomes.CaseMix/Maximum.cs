using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace Outcomes.CaseMix;

/// <summary>Where a (penalised) likelihood is highest.</summary>
/// <param name="Beta">The coefficients, in the problem's own scale.</param>
/// <param name="Objective">The log likelihood there, with ½ ln |I| added when penalised, less the ridge's penalty.</param>
/// <param name="Converged">False when the steps did not become small: the likelihood has no highest point, or the arithmetic gave
/// out.</param>
/// <param name="Iterations">Steps taken.</param>
/// <param name="LastStep">The last step: when the data are separated, the direction in which the likelihood keeps rising.</param>
internal sealed record Maximum(double[] Beta, double Objective, bool Converged, int Iterations, double[] LastStep)
{
    private const double LongestStep = 5;

    /// <summary>
    /// Newton's method, which for the logistic likelihood is iteratively reweighted least squares: β += I⁻¹ U, halved while the
    /// objective falls. Penalised (Firth): U_j = Σ (y − p + h (½ − p)) x_j with h the diagonal of the hat matrix. A ridge takes λ β_j from
    /// U_j.
    /// </summary>
    /// <param name="problem">Rows and outcomes.</param>
    /// <param name="penalised">Firth's penalty, or none.</param>
    /// <param name="start">Where to begin.</param>
    /// <param name="hold">A coefficient that keeps its value, for a profile; −1 for none.</param>
    /// <param name="iterations">Most steps.</param>
    /// <param name="tolerance">A step no longer than this ends it.</param>
    public static Maximum Find(
        LogisticProblem problem, bool penalised, double[] start, int hold = -1, int iterations = 50, double tolerance = 1e-10)
    {
        var beta = (double[])start.Clone();
        var objective = Value(problem, penalised, beta);
        var step = new double[beta.Length];
        for (var iteration = 1; iteration <= iterations; iteration++)
        {
            if (Step(problem, penalised, beta, hold) is not { } next)
                return new(beta, objective, false, iteration, step);
            step = next;
            var longest = step.Max(Math.Abs);
            var factor = longest > LongestStep ? LongestStep / longest : 1;
            var (moved, value) = Move(factor);
            for (var halving = 0; halving < 30 && !(value >= objective - (1e-12 * Math.Abs(objective))); halving++)
            {
                factor /= 2;
                (moved, value) = Move(factor);
            }

            (beta, objective) = (moved, value);
            if (longest < tolerance)
                return new(beta, objective, true, iteration, step);
        }

        return new(beta, objective, false, iterations, step);

        (double[] Beta, double Objective) Move(double factor)
        {
            double[] moved = [.. beta.Zip(step, (old, change) => old + (factor * change))];
            return (moved, Value(problem, penalised, moved));
        }
    }

    /// <summary>The objective; minus infinity where the information is not positive definite.</summary>
    public static double Value(LogisticProblem problem, bool penalised, double[] beta)
    {
        var likelihood = problem.LogLikelihood(beta) - problem.Penalty(beta);
        if (!penalised)
            return likelihood;
        return Factor(problem.Information(beta)) is { } factor ? likelihood + (factor.DeterminantLn / 2) : double.NegativeInfinity;
    }

    /// <summary>The inverse of the information; null where it has none.</summary>
    public static double[,]? Covariance(LogisticProblem problem, double[] beta) =>
        Factor(problem.Information(beta))?.Solve(Matrix<double>.Build.DenseIdentity(beta.Length)).ToArray();

    private static double[]? Step(LogisticProblem problem, bool penalised, double[] beta, int hold)
    {
        var information = problem.Information(beta);
        var inverse = penalised ? Factor(information)?.Solve(Matrix<double>.Build.DenseIdentity(beta.Length)).ToArray() : null;
        if (penalised && inverse is null)
            return null;
        var score = new double[beta.Length];
        for (var i = 0; i < problem.Records; i++)
        {
            var p = Logit.Chance(problem.Linear(i, beta));
            var row = problem.Row(i);
            var leverage = inverse is null ? 0 : Leverage(row, inverse) * p * (1 - p);
            var residual = problem.Met(i) - p + (leverage * (0.5 - p));
            for (var j = 0; j < row.Length; j++)
                score[j] += residual * row[j];
            if (leverage > 0)
                Add(information, leverage * p * (1 - p), row);
        }

        for (var j = 1; j < beta.Length; j++)
            score[j] -= problem.Ridge * beta[j];
        if (hold >= 0)
        {
            for (var j = 0; j < beta.Length; j++)
                information[j, hold] = information[hold, j] = 0;
            (information[hold, hold], score[hold]) = (1, 0);
        }

        return Factor(information)?.Solve(Vector<double>.Build.Dense(score)).ToArray() is { } step && step.All(double.IsFinite)
            ? step
            : null;
    }

    // The penalty is as good as h records more, half of them met: they belong in the information too, or a step goes up to twice too far.
    private static void Add(double[,] information, double weight, ReadOnlySpan<double> row)
    {
        for (var j = 0; j < row.Length; j++)
            for (var k = 0; k < row.Length; k++)
                information[j, k] += weight * row[j] * row[k];
    }

    private static double Leverage(ReadOnlySpan<double> row, double[,] inverse)
    {
        double sum = 0;
        for (var j = 0; j < row.Length; j++)
        {
            double inner = 0;
            for (var k = 0; k < row.Length; k++)
                inner += inverse[j, k] * row[k];
            sum += row[j] * inner;
        }

        return sum;
    }

    // MathNet says that a matrix is not positive definite by an exception; here that is an answer.
    private static Cholesky<double>? Factor(double[,] information)
    {
        try
        {
            return Matrix<double>.Build.DenseOfArray(information).Cholesky();
        }
        catch (ArgumentException)
        {
            return null;
        }
    }
}
