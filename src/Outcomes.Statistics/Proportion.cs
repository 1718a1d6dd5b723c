namespace Outcomes.Statistics;

/// <summary>Which interval goes round a proportion.</summary>
public enum IntervalMethod
{
    /// <summary>The score interval of <see cref="Statistics.Wilson"/>: the default in tables.</summary>
    Wilson,

    /// <summary>The exact interval of <see cref="Statistics.ClopperPearson"/>.</summary>
    ClopperPearson,
}

/// <summary>From a count to the proportion that it estimates.</summary>
public static class Proportion
{
    /// <summary>Where the bounds for missing records come from (citation from memory).</summary>
    public const string MissingBoundsSource = "Manski CF. Am Econ Rev 1990;80(2):319-323 (worst-case bounds)";

    /// <summary>The proportion met out of eligible with its interval; null when none was eligible, for then there is nothing to estimate.</summary>
    /// <param name="count">Met, eligible and missing. Missing records take no part: see <see cref="MissingBounds"/>.</param>
    /// <param name="method">Which interval.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Fractions from 0 to 1.</returns>
    /// <remarks>Assumes that missing records would have met the measure as often as the judged ones. Source: that of the interval, named in the result.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">The count or the level is out of range.</exception>
    public static Estimate? Estimate(Count count, IntervalMethod method = IntervalMethod.Wilson, double level = 0.95)
    {
        Requires.Counts(count);
        if (count.Eligible == 0)
            return null;
        var (lower, upper) = method == IntervalMethod.ClopperPearson
            ? ClopperPearson.Interval(count.Met, count.Eligible, level)
            : Wilson.Interval(count.Met, count.Eligible, level);
        var value = (double)count.Met / count.Eligible;
        return method == IntervalMethod.ClopperPearson
            ? new(value, lower, upper, level, ClopperPearson.Method, ClopperPearson.Source, count)
            : new(value, lower, upper, level, Wilson.Method, Wilson.Source, count);
    }

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
