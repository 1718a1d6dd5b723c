using MathNet.Numerics.LinearAlgebra;

namespace Outcomes.Statistics;

/// <summary>A logistic regression of counts.</summary>
/// <param name="Coefficients">Log odds, in the order of the columns.</param>
/// <param name="Covariance">Inverse of the information matrix, without allowance for overdispersion.</param>
/// <param name="Pearson">Pearson's chi-square, Σ (k − n p)²/(n p (1 − p)).</param>
/// <param name="Degrees">Rows less columns.</param>
internal sealed record GroupedLogistic(Vector<double> Coefficients, Matrix<double> Covariance, double Pearson, int Degrees)
{
    /// <summary>Pearson's residuals, (k − n p)/√(n p (1 − p)), one a row.</summary>
    public required IReadOnlyList<double> Residuals { get; init; }

    /// <summary>
    /// Maximum likelihood by iteratively reweighted least squares: β ← β + (XᵀWX)⁻¹ Xᵀ(k − n p), W = n p (1 − p).
    /// </summary>
    /// <returns>
    /// Null when it does not settle: the data are separated, so that some coefficient is infinite, or columns depend on each other.
    /// </returns>
    public static GroupedLogistic? Fit(Matrix<double> design, IReadOnlyList<double> met, IReadOnlyList<double> eligible)
    {
        var beta = Vector<double>.Build.Dense(design.ColumnCount);
        var (all, some) = (eligible.Sum(), met.Sum());
        if (some <= 0 || some >= all || design.RowCount < design.ColumnCount)
            return null;
        // The first column is the intercept: starting at the pooled odds, the steps are short.
        beta[0] = Math.Log(some / (all - some));
        for (var step = 0; step < 50; step++)
        {
            var (information, score, _) = At(design, met, eligible, beta);
            if (!information.Enumerate().All(double.IsFinite) || information.ConditionNumber() > 1e13)
                return null;
            var change = information.Cholesky().Solve(score);
            beta += change;
            // Each step squares the error of the last, so that what is left after this one lies below rounding.
            if (change.AbsoluteMaximum() < 1e-9)
                return Done(design, met, eligible, beta);
        }
        return null;
    }

    private static GroupedLogistic Done(
        Matrix<double> design, IReadOnlyList<double> met, IReadOnlyList<double> eligible, Vector<double> beta)
    {
        var (information, _, pearson) = At(design, met, eligible, beta);
        var covariance = information.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(design.ColumnCount));
        return new(beta, covariance, pearson, design.RowCount - design.ColumnCount)
        {
            Residuals = [.. Enumerable.Range(0, design.RowCount).Select(i =>
            {
                var p = ProportionScale.FromLogit(design.Row(i) * beta);
                return (met[i] - (eligible[i] * p)) / Math.Sqrt(eligible[i] * p * (1 - p));
            })],
        };
    }

    private static (Matrix<double> Information, Vector<double> Score, double Pearson) At(
        Matrix<double> design, IReadOnlyList<double> met, IReadOnlyList<double> eligible, Vector<double> beta)
    {
        var columns = design.ColumnCount;
        var information = Matrix<double>.Build.Dense(columns, columns);
        var score = Vector<double>.Build.Dense(columns);
        var pearson = 0.0;
        for (var i = 0; i < design.RowCount; i++)
        {
            var row = design.Row(i);
            var p = ProportionScale.FromLogit(row * beta);
            var weight = eligible[i] * p * (1 - p);
            var residual = met[i] - (eligible[i] * p);
            information += row.OuterProduct(row) * weight;
            score += row * residual;
            pearson += residual * residual / weight;
        }
        return (information, score, pearson);
    }
}
