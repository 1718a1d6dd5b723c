namespace Outcomes.CaseMix;

/// <summary>Newton's method for a ridge, in one pass over the records a step: a limit takes hundreds of fits.</summary>
internal static class RidgeNewton
{
    private const int MostSteps = 25;
    private const double LongestStep = 5;

    /// <summary>
    /// The maximum from a start; null where steps do not shrink by themselves, so that the careful search with halved steps must do it.
    /// </summary>
    /// <param name="problem">Rows and outcomes, with a penalty.</param>
    /// <param name="start">Where to begin.</param>
    /// <param name="tolerance">A step no longer than this is the last. The error left is about its square.</param>
    public static double[]? Find(LogisticProblem problem, double[] start, double tolerance)
    {
        var columns = problem.Columns;
        var beta = (double[])start.Clone();
        var (information, step) = (new double[columns * columns], new double[columns]);
        var before = double.PositiveInfinity;
        for (var at = 0; at < MostSteps; at++)
        {
            Score(problem, beta, information, step);
            if (!Solve(information, step))
                return null;
            var longest = 0.0;
            for (var j = 0; j < columns; j++)
            {
                beta[j] += step[j];
                longest = Math.Max(longest, Math.Abs(step[j]));
            }

            if (longest <= tolerance)
                return beta;
            if (!(longest <= LongestStep) || longest > 2 * before)
                return null;
            before = longest;
        }

        return null;
    }

    /// <summary>Lower half of X'WX + penalty, and X'(y − p) − penalty β.</summary>
    private static void Score(LogisticProblem problem, double[] beta, double[] information, double[] score)
    {
        var columns = beta.Length;
        Array.Clear(information);
        Array.Clear(score);
        for (var j = 1; j < columns; j++)
        {
            information[(j * columns) + j] = problem.Ridge;
            score[j] = -problem.Ridge * beta[j];
        }

        for (var i = 0; i < problem.Records; i++)
        {
            var row = problem.Row(i);
            var eta = 0.0;
            for (var j = 0; j < row.Length; j++)
                eta += row[j] * beta[j];
            var chance = Logit.Chance(eta);
            var (weight, residual) = (chance * (1 - chance), problem.Met(i) - chance);
            for (var j = 0; j < row.Length; j++)
            {
                score[j] += residual * row[j];
                var part = weight * row[j];
                var line = information.AsSpan(j * columns, j + 1);
                for (var k = 0; k < line.Length; k++)
                    line[k] += part * row[k];
            }
        }
    }

    /// <summary>Solves by Cholesky in place, from the lower half; false where that is not positive definite.</summary>
    private static bool Solve(double[] matrix, double[] vector)
    {
        var n = vector.Length;
        for (var j = 0; j < n; j++)
        {
            for (var i = j; i < n; i++)
            {
                var sum = matrix[(i * n) + j];
                for (var k = 0; k < j; k++)
                    sum -= matrix[(i * n) + k] * matrix[(j * n) + k];
                if (i > j)
                    matrix[(i * n) + j] = sum / matrix[(j * n) + j];
                else if (sum > 0)
                    matrix[(j * n) + j] = Math.Sqrt(sum);
                else
                    return false;
            }
        }

        for (var i = 0; i < n; i++)
        {
            for (var k = 0; k < i; k++)
                vector[i] -= matrix[(i * n) + k] * vector[k];
            vector[i] /= matrix[(i * n) + i];
        }

        for (var i = n - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < n; k++)
                vector[i] -= matrix[(k * n) + i] * vector[k];
            vector[i] /= matrix[(i * n) + i];
        }

        return true;
    }
}
