using NormalDistribution = MathNet.Numerics.Distributions.Normal;

namespace Outcomes.Statistics;

/// <summary>
/// How surely two groups of one size show a difference, and how large they must be: for planning a comparison, not for charts that are
/// looked at every month.
/// </summary>
public static class TwoProportionPower
{
    public const string Source = "Fleiss JL. Statistical Methods for Rates and Proportions, 2nd ed. 1981, section 3.2; Casagrande JT, "
        + "Pike MC, Smith PG. Biometrics 1978;34:483-486";

    /// <summary>
    /// Φ((√n |p₁ − p₂| − z √(2 p̄q̄)) / √(p₁q₁ + p₂q₂)), with z the two-sided quantile and p̄ the mean of both proportions; the chance of a
    /// difference in the wrong direction is left out.
    /// </summary>
    /// <param name="first">Proportion in the first group, above 0 and below 1.</param>
    /// <param name="second">In the second, another one.</param>
    /// <param name="perGroup">Records in each group, above 0.</param>
    /// <param name="level">1 − α of the two-sided test, above 0 and below 1.</param>
    /// <returns>A chance from 0 to 1.</returns>
    /// <remarks>Assumes independent records and large groups. Source: <see cref="Source"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">An input is out of range.</exception>
    public static double Power(double first, double second, double perGroup, double level = 0.95)
    {
        Check(first, second);
        if (!(perGroup > 0 && double.IsFinite(perGroup)))
            throw new ArgumentOutOfRangeException(nameof(perGroup), perGroup, "a group has more than 0 records");
        var (pooled, apart) = Spread(first, second);
        return NormalDistribution.CDF(0, 1, ((Math.Sqrt(perGroup) * Math.Abs(first - second)) - (Normal.TwoSided(level) * pooled)) / apart);
    }

    /// <summary>
    /// n = ((z √(2 p̄q̄) + z₁ √(p₁q₁ + p₂q₂)) / (p₁ − p₂))² records in each group, z₁ the quantile of the power; with correction n/4 (1 +
    /// √(1 + 4/(n|p₁ − p₂|)))².
    /// </summary>
    /// <param name="first">Proportion in the first group, above 0 and below 1.</param>
    /// <param name="second">In the second, another one.</param>
    /// <param name="power">Chance of showing the difference, above 0 and below 1.</param>
    /// <param name="level">1 − α of the two-sided test, above 0 and below 1.</param>
    /// <param name="corrected">Whether for a test with continuity correction, which comes close to Fisher's exact test.</param>
    /// <returns>Records in each group, not rounded.</returns>
    /// <remarks>Assumes independent records and large groups. Source: <see cref="Source"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">An input is out of range.</exception>
    public static double PerGroup(double first, double second, double power, double level = 0.95, bool corrected = false)
    {
        Check(first, second);
        Requires.Level(power);
        var (pooled, apart) = Spread(first, second);
        var distance = Math.Abs(first - second);
        var root = ((Normal.TwoSided(level) * pooled) + (NormalDistribution.InvCDF(0, 1, power) * apart)) / distance;
        var n = root * root;
        return corrected ? n / 4 * ChiSquare.Square(1 + Math.Sqrt(1 + (4 / (n * distance)))) : n;
    }

    private static (double Pooled, double Apart) Spread(double first, double second) =>
        (Math.Sqrt((first + second) * (1 - ((first + second) / 2))), Math.Sqrt((first * (1 - first)) + (second * (1 - second))));

    private static void Check(double first, double second)
    {
        if (!(first > 0 && first < 1 && second > 0 && second < 1) || first == second)
            throw new ArgumentOutOfRangeException(nameof(second), (first, second), "two different proportions lie above 0 and below 1");
    }
}
