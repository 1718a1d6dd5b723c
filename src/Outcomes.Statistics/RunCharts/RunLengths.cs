using MathNet.Numerics.Integration;
using MathNet.Numerics.LinearAlgebra;
using NormalDistribution = MathNet.Numerics.Distributions.Normal;

namespace Outcomes.Statistics;

/// <summary>How many values a chart with memory takes on average until it signals.</summary>
/// <remarks>
/// Independent normal values of known standard deviation 1 and mean <c>shift</c> from the target. It tells what such a chart promises under its own
/// assumptions; with target and deviation estimated from a department's baseline, false alarms come much sooner.
/// </remarks>
public static class RunLengths
{
    /// <summary>Where the method comes from.</summary>
    public const string Source = "Integral equation: Page ES. Biometrika 1954;41:100-115; Crowder SV. Technometrics 1987;29:401-407; two sides: Kemp KW. J R Stat Soc B 1961;23:149-153 (citations from memory)";

    private const int Nodes = 80;

    /// <summary>
    /// The average run length of a two-sided tabular CUSUM from 0: 1/ARL = 1/ARL⁺ + 1/ARL⁻, each solving
    /// L(s) = 1 + L(0) Φ(k − s − δ) + ∫₀ʰ L(x) φ(x + k − s − δ) dx at s = 0, by Gauss-Legendre quadrature.
    /// </summary>
    /// <param name="allowance">k, at least 0, in standard deviations.</param>
    /// <param name="limit">h, above 0 and at most 10.</param>
    /// <param name="shift">δ, the mean's distance from the target.</param>
    /// <exception cref="ArgumentOutOfRangeException">A parameter is out of range.</exception>
    public static double Cusum(double allowance, double limit, double shift)
    {
        if (!(allowance >= 0))
            throw new ArgumentOutOfRangeException(nameof(allowance), allowance, "an allowance is not negative");
        if (!(limit is > 0 and <= 10))
            throw new ArgumentOutOfRangeException(nameof(limit), limit, "the limit lies above 0 and is at most 10");
        return 1 / ((1 / OneSided(allowance, limit, shift)) + (1 / OneSided(allowance, limit, -shift)));
    }

    /// <summary>
    /// The average run length of a two-sided EWMA from the target with limits ± L √(λ/(2 − λ)) of the long run:
    /// A(u) = 1 + (1/λ) ∫ A(x) φ((x − (1 − λ) u)/λ − δ) dx between the limits, at u = 0.
    /// </summary>
    /// <param name="weight">λ, at least 0.02 and at most 1.</param>
    /// <param name="multiple">L, above 0 and at most 5.</param>
    /// <param name="shift">δ, the mean's distance from the target, in standard deviations.</param>
    /// <exception cref="ArgumentOutOfRangeException">A parameter is out of range.</exception>
    public static double Ewma(double weight, double multiple, double shift)
    {
        if (!(weight is >= 0.02 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(weight), weight, "the weight lies between 0.02 and 1");
        if (!(multiple is > 0 and <= 5))
            throw new ArgumentOutOfRangeException(nameof(multiple), multiple, "the multiple lies above 0 and is at most 5");
        var half = multiple * Math.Sqrt(weight / (2 - weight));
        return Solve(-half, half, 0, (from, to) => Density(((to - ((1 - weight) * from)) / weight) - shift) / weight, _ => 0);
    }

    private static double OneSided(double allowance, double limit, double shift) =>
        Solve(0, limit, 0, (from, to) => Density(to + allowance - from - shift), from => NormalDistribution.CDF(0, 1, allowance - from - shift));

    private static double Density(double z) => Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI);

    /// <summary>L at the start, where L(s) = 1 + L(start) atom(s) + ∫ L(x) density(s, x) dx.</summary>
    private static double Solve(double low, double high, double start, Func<double, double, double> density, Func<double, double> atom)
    {
        var rule = new GaussLegendreRule(low, high, Nodes);
        // The last unknown is L at the start, where the atom sends it back to.
        double[] at = [.. rule.Abscissas, start];
        var equations = Matrix<double>.Build.Dense(Nodes + 1, Nodes + 1, (row, column) =>
            (row == column ? 1 : 0) - (column < Nodes ? rule.GetWeight(column) * density(at[row], at[column]) : atom(at[row])));
        return equations.Solve(Vector<double>.Build.Dense(Nodes + 1, 1))[Nodes];
    }
}
