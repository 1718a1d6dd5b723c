using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>A test statistic with its degrees of freedom and the chance of one as large or larger.</summary>
public sealed record TestResult(double Statistic, int DegreesOfFreedom, double PValue);

/// <summary>The χ² distribution's upper tail, and the test that several proportions are equal.</summary>
public static class ChiSquare
{
    public const string HomogeneitySource =
        "Pearson K. Philos Mag 1900;50:157-175; Fleiss JL. Statistical Methods for Rates and Proportions, 2nd ed. 1981, ch. 9";

    /// <summary>
    /// Σ (kᵢ − nᵢp)² / (nᵢ p q) over groups with p the pooled proportion and q = 1 − p, against χ² with groups − 1 degrees of freedom;
    /// without continuity correction.
    /// </summary>
    /// <param name="groups">Counts of independent groups. Groups with no eligible record are left out.</param>
    /// <returns>The test; null when fewer than two groups have records, or nobody or everybody met the measure.</returns>
    /// <remarks>Assumes independent records and expected numbers of about five or more. Source: <see cref="HomogeneitySource"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count is out of range.</exception>
    public static TestResult? Homogeneity(IReadOnlyList<Count> groups)
    {
        foreach (var group in groups)
            Requires.Counts(group);
        var judged = groups.Where(group => group.Eligible > 0).ToArray();
        double met = judged.Sum(group => group.Met), eligible = judged.Sum(group => group.Eligible);
        if (judged.Length < 2 || met == 0 || met == eligible)
            return null;
        var (p, q) = (met / eligible, (eligible - met) / eligible);
        var statistic = judged.Sum(group => Square(group.Met - (group.Eligible * p)) / (group.Eligible * p * q));
        return new(statistic, judged.Length - 1, UpperTail(statistic, judged.Length - 1));
    }

    /// <summary>P(χ² ≥ statistic).</summary>
    internal static double UpperTail(double statistic, int degrees) =>
        statistic <= 0 ? 1
        : degrees == 1 ? SpecialFunctions.Erfc(Math.Sqrt(statistic / 2))
        : SpecialFunctions.GammaUpperRegularized(degrees / 2.0, statistic / 2);

    internal static double Square(double x) => x * x;
}
