using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;

namespace Outcomes.Statistics;

/// <summary>An odds ratio that a regression gives, with its interval.</summary>
public sealed record FittedOdds(double Value, double Lower, double Upper);

/// <summary>Why a segmented regression was not made, or must be doubted.</summary>
public enum SegmentedDoubt
{
    /// <summary>
    /// Fewer than eight months with cases before the change, or after it (common practice asks for eight to twelve): trends are guesses.
    /// </summary>
    FewMonths,

    /// <summary>Fewer than ten met or ten not met before the change, or after it.</summary>
    FewEvents,

    /// <summary>The regression has no finite answer: on one side of the change, say, all met.</summary>
    NoAnswer,

    /// <summary>What is left of neighbouring months is alike (Ljung and Box, 5 %): the intervals are too narrow.</summary>
    Autocorrelated,
}

/// <summary>Level and trend of a monthly proportion before and after a declared change.</summary>
public sealed record SegmentedChange
{
    /// <summary>Odds ratio a month before the change: the trend that was there anyway.</summary>
    public FittedOdds? TrendBefore { get; init; }

    /// <summary>Odds ratio at the first month after, against the projected earlier trend.</summary>
    public FittedOdds? Level { get; init; }

    /// <summary>Ratio of the monthly odds ratios, after over before: 1 when the trend went on as it was.</summary>
    public FittedOdds? Trend { get; init; }

    /// <summary>Odds ratio at the last month, against the projected earlier trend: level and trend together.</summary>
    public FittedOdds? AtEnd { get; init; }

    /// <summary>Proportion that the model gives for the last month.</summary>
    public double? FittedAtEnd { get; init; }

    /// <summary>Proportion that the earlier trend projects for it.</summary>
    public double? ForetoldAtEnd { get; init; }

    /// <summary>Pearson's chi-square over its degrees of freedom: above 1, months vary more than chance.</summary>
    public double? Dispersion { get; init; }

    /// <summary>Whether what is left of neighbouring months is alike; null without an answer.</summary>
    public LjungBoxResult? Autocorrelation { get; init; }

    /// <summary>Difference after − before, all months of each side together, without any trend; null when a side has no cases.</summary>
    public DifferenceEstimate? Difference { get; init; }

    /// <summary>Fitted log odds, for validation: intercept, month, after, months after.</summary>
    public ImmutableArray<double> Coefficients { get; init; } = [];

    /// <summary>Their standard errors, overdispersion included.</summary>
    public ImmutableArray<double> Errors { get; init; } = [];

    /// <summary>Reasons not to trust it.</summary>
    public required ImmutableArray<SegmentedDoubt> Doubts { get; init; }
}

/// <summary>Did a declared change help? Segmented (interrupted) logistic regression.</summary>
public static class SegmentedRegression
{
    /// <summary>Where the method comes from.</summary>
    public const string Source = "Wagner AK et al. J Clin Pharm Ther 2002;27:299-309; Bernal JL et al. Int J Epidemiol 2017;46:348-355; "
        + "overdispersion: McCullagh P, Nelder JA. Generalized Linear Models, 1989, 4.5; autocorrelation: " + LjungBox.Source;

    /// <summary>What no such analysis can show, whatever its figures.</summary>
    public const string CannotRuleOut =
        "It cannot rule out that something else changed at the same time, that the patients or the recording changed, "
            + "or that the change was made because of a bad run that would have ended anyway.";

    private const int EnoughMonths = 8;
    private const int EnoughEvents = 10;
    private const double TooAlike = 0.05;

    /// <summary>
    /// Binomial counts with ln odds = β₀ + β₁ t + β₂ a + β₃ a (t − c), where t is the 0-based month, c the first month after the change and
    /// a = 1 from c on. Standard errors are those of maximum likelihood times √max(1, φ) with φ = Pearson's chi-square / degrees of
    /// freedom, and intervals use Student's t on those degrees. With the difference of the pooled proportions by Newcombe's method, for the
    /// reader who doubts trends. Pearson's residuals are tested for autocorrelation up to lag n / 5, at most 10 (common practice).
    /// </summary>
    /// <param name="series">Months in order; one without cases takes no part.</param>
    /// <param name="change">0-based month from which the change holds, declared beforehand with its date and reason.</param>
    /// <param name="level">Level of the intervals.</param>
    /// <returns>Odds ratios; null where the regression has no answer, which <see cref="SegmentedChange.Doubts"/> says.</returns>
    /// <remarks>
    /// Assumes a straight trend of the log odds on each side, and months independent given it. <see cref="CannotRuleOut"/> A month picked
    /// because the chart moved there makes any change look real. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range, or the change leaves a side without
    /// months.</exception>
    public static SegmentedChange Fit(Series series, int change, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(series);
        Requires.Level(level);
        foreach (var count in series.Counts)
            Requires.Counts(count, nameof(series));
        if (change < 1 || change >= series.Counts.Length)
            throw new ArgumentOutOfRangeException(nameof(change), change,
                $"the change lies between month 1 and the last, {series.Counts.Length - 1}");
        var before = series.Counts[..change].Aggregate(default(Count), (sum, count) => sum + count);
        var after = series.Counts[change..].Aggregate(default(Count), (sum, count) => sum + count);
        int[] months = [.. Enumerable.Range(0, series.Counts.Length).Where(month => series.Counts[month].Eligible > 0)];
        SegmentedChange result = new()
        {
            Difference = Statistics.Difference.Newcombe(after, before, level),
            Doubts = [.. Doubts(months, change, before, after)],
        };
        var design = Matrix<double>.Build.Dense(months.Length, 4, (row, column) => column switch
        {
            0 => 1,
            1 => months[row],
            2 => months[row] >= change ? 1 : 0,
            _ => Math.Max(0, months[row] - change),
        });
        var fit = months.Length > 4
            ? GroupedLogistic.Fit(design, [.. months.Select(month => (double)series.Counts[month].Met)],
                [.. months.Select(month => (double)series.Counts[month].Eligible)])
            : null;
        if (fit is null)
            return result with { Doubts = result.Doubts.Add(SegmentedDoubt.NoAnswer) };
        var alike = LjungBox.Test(fit.Residuals, Math.Clamp(months.Length / 5, 1, 10));
        return Read(result, fit, series.Counts.Length - 1, change, level) with
        {
            Autocorrelation = alike,
            Doubts = alike?.P < TooAlike ? result.Doubts.Add(SegmentedDoubt.Autocorrelated) : result.Doubts,
        };
    }

    private static SegmentedChange Read(SegmentedChange result, GroupedLogistic fit, int last, int change, double level)
    {
        var dispersion = fit.Pearson / fit.Degrees;
        var scale = Math.Sqrt(Math.Max(1, dispersion));
        var quantile = BetaQuantiles.StudentTwoSided(level, fit.Degrees);
        var foretold = fit.Coefficients[0] + (fit.Coefficients[1] * last);
        return result with
        {
            TrendBefore = Ratio(0, 1, 0, 0),
            Level = Ratio(0, 0, 1, 0),
            Trend = Ratio(0, 0, 0, 1),
            AtEnd = Ratio(0, 0, 1, last - change),
            FittedAtEnd = ProportionScale.FromLogit(foretold + fit.Coefficients[2] + (fit.Coefficients[3] * (last - change))),
            ForetoldAtEnd = ProportionScale.FromLogit(foretold),
            Dispersion = dispersion,
            Coefficients = [.. fit.Coefficients],
            Errors = [.. fit.Covariance.Diagonal().Select(variance => scale * Math.Sqrt(variance))],
        };

        FittedOdds Ratio(params double[] contrast)
        {
            var vector = Vector<double>.Build.Dense(contrast);
            var (log, half) = (vector * fit.Coefficients, quantile * scale * Math.Sqrt(vector * (fit.Covariance * vector)));
            return new(Math.Exp(log), Math.Exp(log - half), Math.Exp(log + half));
        }
    }

    private static IEnumerable<SegmentedDoubt> Doubts(int[] months, int change, Count before, Count after)
    {
        var early = months.Count(month => month < change);
        if (early < EnoughMonths || months.Length - early < EnoughMonths)
            yield return SegmentedDoubt.FewMonths;
        if (new[] { before.Met, before.Eligible - before.Met, after.Met, after.Eligible - after.Met }.Min() < EnoughEvents)
            yield return SegmentedDoubt.FewEvents;
    }
}
