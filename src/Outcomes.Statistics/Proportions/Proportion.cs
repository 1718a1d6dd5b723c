namespace Outcomes.Statistics;

/// <summary>Which interval goes round a proportion.</summary>
public enum IntervalMethod
{
    /// <summary>The score interval of <see cref="Statistics.Wilson"/>: the default in tables.</summary>
    Wilson,

    /// <summary>The exact interval of <see cref="Statistics.ClopperPearson"/>.</summary>
    ClopperPearson,

    /// <summary>The equal-tailed interval of <see cref="Statistics.Jeffreys"/>.</summary>
    Jeffreys,

    /// <summary>The exact interval that counts half of what was seen, <see cref="Statistics.MidP"/>.</summary>
    MidP,

    /// <summary>The interval of <see cref="Statistics.AgrestiCoull"/>.</summary>
    AgrestiCoull,

    /// <summary>The score interval with continuity correction, <see cref="Statistics.WilsonCorrected"/>.</summary>
    WilsonCorrected,

    /// <summary>The interval of <see cref="LikelihoodInterval"/>.</summary>
    Likelihood,

    /// <summary>The interval of <see cref="Statistics.Wald"/>, only to reproduce a paper.</summary>
    Wald,

    /// <summary>The same with continuity correction, only to reproduce a paper.</summary>
    WaldCorrected,
}

/// <summary>From a count to the proportion that it estimates.</summary>
public static class Proportion
{
    /// <summary>Where the bounds for missing records come from (citation from memory).</summary>
    public const string MissingBoundsSource = "Manski CF. Am Econ Rev 1990;80(2):319-323 (worst-case bounds)";

    /// <summary>
    /// The proportion met out of eligible with its interval; null when none was eligible, for then there is nothing to estimate.
    /// </summary>
    /// <param name="count">Met, eligible and missing. Missing records take no part: see <see cref="MissingBounds"/>.</param>
    /// <param name="method">Which interval.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1.</returns>
    /// <remarks>
    /// Assumes that missing records would have met the measure as often as the judged ones. Source: that of the interval, named in the
    /// result.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">The count or the level is out of range.</exception>
    public static Estimate? Estimate(Count count, IntervalMethod method = IntervalMethod.Wilson, double level = 0.95)
    {
        Requires.Counts(count);
        if (count.Eligible == 0)
            return null;
        var (interval, name, source) = Of(method);
        var (lower, upper) = interval(count.Met, count.Eligible, level);
        return new((double)count.Met / count.Eligible, lower, upper, level, name, source, count);
    }

    private static (Func<long, long, double, Bounds> Interval, string Method, string Source) Of(IntervalMethod method) => method switch
    {
        IntervalMethod.Wilson => (Wilson.Interval, Wilson.Method, Wilson.Source),
        IntervalMethod.ClopperPearson => (ClopperPearson.Interval, ClopperPearson.Method, ClopperPearson.Source),
        IntervalMethod.Jeffreys => (Jeffreys.Interval, Jeffreys.Method, Jeffreys.Source),
        IntervalMethod.MidP => (MidP.Interval, MidP.Method, MidP.Source),
        IntervalMethod.AgrestiCoull => (AgrestiCoull.Interval, AgrestiCoull.Method, AgrestiCoull.Source),
        IntervalMethod.WilsonCorrected => (WilsonCorrected.Interval, WilsonCorrected.Method, WilsonCorrected.Source),
        IntervalMethod.Likelihood => (LikelihoodInterval.Interval, LikelihoodInterval.Method, LikelihoodInterval.Source),
        IntervalMethod.Wald => (Wald.Interval, Wald.Method, Wald.Source),
        IntervalMethod.WaldCorrected => (Wald.Corrected, Wald.CorrectedMethod, Wald.Source),
        _ => throw new ArgumentOutOfRangeException(nameof(method), method, "there is no such interval"),
    };

    /// <summary>
    /// The proportion if no missing record had met the measure, and if all had: met / (eligible + missing) and
    /// (met + missing) / (eligible + missing). Null when there is no record at all.
    /// </summary>
    /// <returns>Fractions from 0 to 1 that hold whatever the missing records were; equal when none is missing.</returns>
    /// <remarks>
    /// Not a confidence interval: it says nothing about chance, and assumes nothing about why records are missing, save that each
    /// belongs to the measure. Source: <see cref="MissingBoundsSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">The count is out of range.</exception>
    public static Bounds? MissingBounds(Count count)
    {
        Requires.Counts(count);
        double all = count.Eligible + count.Missing;
        return all == 0 ? null : new Bounds(count.Met / all, (count.Met + count.Missing) / all);
    }
}
