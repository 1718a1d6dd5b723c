namespace Outcomes.Statistics;

/// <summary>How many cases until an interval is narrow enough.</summary>
public static class Precision
{
    /// <summary>More cases than this are not asked for.</summary>
    public const long Most = 1_000_000_000_000;

    /// <summary>
    /// The least number of cases whose Wilson interval, were the proportion seen to be <paramref name="rate"/>, reaches no further than
    /// <paramref name="halfWidth"/> to either side of its middle: the half-width is z √(p(1−p)/n + z²/4n²) / (1 + z²/n), which falls with
    /// n.
    /// </summary>
    /// <param name="rate">The proportion expected, 0 to 1.</param>
    /// <param name="halfWidth">Half the width of the interval, a fraction above 0 and below 0.5.</param>
    /// <param name="level">Confidence level, such as 0.95.</param>
    /// <returns>Cases, at least 1.</returns>
    /// <remarks>
    /// At a rate of 1/2 it is z²/(4h²) − z², rounded up. Says how precise an estimate would be, not whether a change would be noticed.
    /// The middle of a Wilson interval lies a little nearer to 1/2 than the rate. Source of the interval: <see cref="Wilson"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A rate, half-width or level is out of range.</exception>
    public static long Cases(double rate, double halfWidth, double level = 0.95)
    {
        if (!(rate is >= 0 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(rate), rate, "a proportion is from 0 to 1");
        if (!(halfWidth is > 0 and < 0.5))
            throw new ArgumentOutOfRangeException(nameof(halfWidth), halfWidth, "half a width is above 0 and below 0.5");
        var z = Normal.TwoSided(level);
        long low = 0, high = 1;
        while (high < Most && HalfWidth(rate, high, z) > halfWidth)
            (low, high) = (high, high * 2);
        while (high - low > 1)
        {
            var middle = low + ((high - low) / 2);
            if (HalfWidth(rate, middle, z) > halfWidth)
                low = middle;
            else
                high = middle;
        }

        return high;
    }

    private static double HalfWidth(double p, double n, double z) =>
        z * Math.Sqrt((p * (1 - p) / n) + (z * z / (4 * n * n))) / (1 + (z * z / n));
}
