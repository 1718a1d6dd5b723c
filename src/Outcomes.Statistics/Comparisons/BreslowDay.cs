namespace Outcomes.Statistics;

/// <summary>Whether strata share one odds ratio.</summary>
public static class BreslowDay
{
    public const string Source =
        "Breslow NE, Day NE. Statistical Methods in Cancer Research, vol. I. 1980, p. 142; Tarone RE. Biometrika 1985;72:91-95";

    /// <summary>
    /// Σ (a − A)² / V over strata, where A is the number met in the first group that the margins and the Mantel-Haenszel odds ratio lead
    /// to, and V = 1 / (1/A + 1/B + 1/C + 1/D) over the cells that go with it. Tarone's version takes off (Σ(a − A))² / ΣV, without which
    /// the statistic is not χ².
    /// </summary>
    /// <param name="strata">The counts of the first and second group in each stratum. Those where nobody or everybody met tell nothing and
    /// are left out.</param>
    /// <param name="tarone">Whether to correct as Tarone does.</param>
    /// <returns>
    /// The test, with strata − 1 degrees of freedom; null when fewer than two strata can tell or the pooled odds ratio is 0 or infinite.
    /// </returns>
    /// <remarks>
    /// Assumes few strata with many records each. It finds large differences between strata only: a large p does not show that the odds
    /// ratios are equal. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count is out of range.</exception>
    public static TestResult? Test(IReadOnlyList<(Count First, Count Second)> strata, bool tarone = true)
    {
        if (MantelHaenszel.OddsRatio(strata) is not { Value: > 0 and < double.PositiveInfinity } pooled)
            return null;
        var tables = MantelHaenszel.Tables(strata).Where(t => t.A + t.C > 0 && t.B + t.D > 0).ToArray();
        if (tables.Length < 2)
            return null;
        var (statistic, distance, variance) = (0.0, 0.0, 0.0);
        foreach (var t in tables)
        {
            var (met, odds) = (t.A + t.C, pooled.Value);
            var b = t.N2 - met + (odds * (t.N1 + met));
            var a = 2 * odds * t.N1 * met / (b + Math.Sqrt((b * b) + (4 * (1 - odds) * odds * t.N1 * met)));
            var v = 1 / ((1 / a) + (1 / (t.N1 - a)) + (1 / (met - a)) + (1 / (t.N2 - met + a)));
            statistic += (t.A - a) * (t.A - a) / v;
            distance += t.A - a;
            variance += v;
        }
        if (tarone)
            statistic -= distance * distance / variance;
        return new(statistic, tables.Length - 1, ChiSquare.UpperTail(statistic, tables.Length - 1));
    }
}
