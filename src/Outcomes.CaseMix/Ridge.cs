using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.CaseMix;

/// <summary>Logistic regression with a ridge penalty: finite whatever the data, and steadier with few events.</summary>
public static class Ridge
{
    /// <summary>λ of the case-mix models: as good as a normal prior of variance 2 on each log odds ratio for one standard
    /// deviation.</summary>
    public const double Penalty = 0.5;

    public const string Source = "le Cessie S, van Houwelingen JC. Appl Stat 1992;41:191-201 (citation from memory)";

    /// <summary>
    /// The maximum of log likelihood − (λ/2) Σ (β_j s_j)², s_j the standard deviation (divisor n) of column j; the intercept is free, so
    /// that the fitted chances add up to the records that met. Errors are those of the inverse of X'WX plus the penalty: with the penalty
    /// read as a prior, the approximate posterior's. They bear no test of a coefficient, which is drawn towards 0.
    /// </summary>
    /// <param name="rows">Covariates, a row a record, no intercept; finite. A constant column has the coefficient 0.</param>
    /// <param name="met">The outcome of each row.</param>
    /// <param name="penalty">λ, above 0.</param>
    /// <param name="level">Level of the intervals.</param>
    /// <remarks>
    /// Edge: where all or none met, the chance is (k + ½)/(n + 1) for every record. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentException">No row, or another number of outcomes.</exception>
    public static LogisticFit Fit(
        IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, double penalty = Penalty, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(met);
        if (rows.Count == 0 || rows.Count != met.Count)
            throw new ArgumentException("a model needs at least one row, and an outcome for each; "
                + $"there are {rows.Count} rows and {met.Count} outcomes", nameof(rows));
        if (!(penalty > 0 && double.IsFinite(penalty)))
            throw new ArgumentOutOfRangeException(nameof(penalty), penalty, "a penalty lies above 0 and is finite");
        var problem = new LogisticProblem(rows, met) { Ridge = penalty };
        return Report(problem, Find(problem, met, new double[problem.Columns], 1e-10), level);
    }

    /// <summary>The coefficients in the problem's own scale.</summary>
    internal static double[] Find(LogisticProblem problem, IReadOnlyList<bool> met, double[] start, double tolerance)
    {
        var yes = met.Count(value => value);
        if (yes != 0 && yes != met.Count)
            return RidgeNewton.Find(problem, start, tolerance)
                ?? Maximum.Find(problem, false, start, iterations: 100, tolerance: tolerance).Beta;
        var flat = new double[problem.Columns];
        flat[0] = Math.Log((yes + 0.5) / (met.Count - yes + 0.5));
        return flat;
    }

    internal static LogisticFit Report(LogisticProblem problem, double[] beta, double level = 0.95)
    {
        var covariance = problem.Back(Maximum.Covariance(problem, beta)
            ?? throw new ArgumentException("the fit did not settle: a column is not finite", nameof(problem)));
        var z = Normal.TwoSided(level);
        return new(
            [.. problem.Back(beta).Select((value, j) =>
            {
                var error = Math.Sqrt(covariance[j, j]);
                return new Coefficient(value, error, new(value - (z * error), value + (z * error)), null);
            })],
            [.. beta.Select((_, j) => beta.Select((_, k) => covariance[j, k]).ToImmutableArray())],
            problem.LogLikelihood(beta), Separation.None, Penalised: false);
    }
}
