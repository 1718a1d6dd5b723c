using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.CaseMix;

/// <summary>Records of like chances: a point of a calibration plot.</summary>
/// <param name="Expected">Their mean expected chance.</param>
/// <param name="Count">How many met, of how many.</param>
/// <param name="Observed">The share that met, with its score interval.</param>
public sealed record CalibrationGroup(double Expected, Count Count, Estimate Observed);

/// <summary>Whether expected chances are as high as they should be.</summary>
/// <param name="Intercept">Calibration in the large: log odds to add to every expected one; 0 is right, above 0 says that more met than
/// expected. Null when all or none met.</param>
/// <param name="Slope">What to multiply expected log odds with; 1 is right, below 1 says that they are too far apart. Null when all or none
/// met, or all chances are the same.</param>
/// <param name="Brier">Mean squared difference of chance and outcome, 0 to 1; 0 is best.</param>
/// <param name="BrierOfMean">The same for a forecast that gives everybody the mean: what a model has to beat.</param>
/// <param name="Groups">The points of the plot, lowest chances first.</param>
public sealed record CalibrationResult(
    Coefficient? Intercept, Coefficient? Slope, double Brier, double BrierOfMean, ImmutableArray<CalibrationGroup> Groups);

/// <summary>Calibration of expected chances against outcomes.</summary>
public static class Calibration
{
    public const string Source = "Cox DR. Biometrika 1958;45:562-565; Brier GW. Mon Weather Rev 1950;78:1-3; Van Calster B et al. "
        + "J Clin Epidemiol 2016;74:167-176 (citations from memory)";

    /// <summary>
    /// Intercept a of ln odds(met) = a + ln odds(expected), slope b of ln odds(met) = c + b ln odds(expected), Brier score
    /// Σ (p − y)² / n, and groups of equal size by expected chance.
    /// </summary>
    /// <param name="expected">A chance a record, above 0 and below 1.</param>
    /// <param name="met">The outcomes.</param>
    /// <param name="groups">Most groups, 2 or more; fewer where chances tie, since ties are never parted.</param>
    /// <param name="level">Confidence level of the intervals.</param>
    /// <remarks>
    /// On the records a model was fitted to, intercept and slope are 0 and 1 by construction and prove nothing: use chances from
    /// cross-validation. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentException">Lists of different lengths, or a chance of 0 or 1.</exception>
    public static CalibrationResult Assess(IReadOnlyList<double> expected, IReadOnlyList<bool> met, int groups = 10, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(expected);
        ArgumentNullException.ThrowIfNull(met);
        if (expected.Count == 0 || expected.Count != met.Count || !expected.All(chance => chance is > 0 and < 1))
            throw new ArgumentException("each outcome needs a chance above 0 and below 1; "
                + $"there are {expected.Count} chances and {met.Count} outcomes", nameof(expected));
        double[] odds = [.. expected.Select(Logit.LogOdds)];
        var both = met.Contains(true) && met.Contains(false);
        var spread = odds.Max() - odds.Min() > 1e-9;
        var mean = met.Count(value => value) / (double)met.Count;
        return new(
            both ? Logistic.Fit([.. met.Select(_ => Array.Empty<double>())], met, offset: odds, level: level).Coefficients[0] : null,
            both && spread ? Slope(odds, met, level) : null,
            expected.Zip(met, (chance, value) => Math.Pow(chance - (value ? 1 : 0), 2)).Average(), mean * (1 - mean),
            Grouped(expected, met, groups, level));
    }

    private static Coefficient? Slope(double[] odds, IReadOnlyList<bool> met, double level)
    {
        var fit = Logistic.Fit([.. odds.Select(value => new[] { value })], met, level: level);
        return fit.Penalised ? null : fit.Coefficients[1];
    }

    private static ImmutableArray<CalibrationGroup> Grouped(
        IReadOnlyList<double> expected, IReadOnlyList<bool> met, int groups, double level)
    {
        int[] order = [.. Enumerable.Range(0, met.Count).OrderBy(i => expected[i])];
        var found = ImmutableArray.CreateBuilder<CalibrationGroup>();
        var from = 0;
        for (var group = 1; group <= groups && from < order.Length; group++)
        {
            var to = Math.Max(from, (int)((long)order.Length * group / groups));
            while (to > from && to < order.Length && expected[order[to]] == expected[order[to - 1]])
                to++;
            if (to == from)
                continue;
            var count = new Count(order[from..to].Count(i => met[i]), to - from, 0);
            found.Add(new(order[from..to].Average(i => expected[i]), count, Proportion.Estimate(count, IntervalMethod.Wilson, level)!));
            from = to;
        }

        return found.ToImmutable();
    }
}
