namespace Outcomes.Statistics;

/// <summary>A quantile with an interval from order statistics.</summary>
/// <param name="Value">The quantile, in the unit of the values.</param>
/// <param name="Lower">Lower end; null when too few values bound it from below at this level.</param>
/// <param name="Upper">Upper end; null likewise.</param>
/// <param name="Level">Confidence level asked for.</param>
/// <param name="Coverage">What the two ends cover at least, whatever the distribution: not below the level when both exist.</param>
/// <param name="LowerRank">Which value in ascending order the lower end is, from 1; 0 when there is none.</param>
/// <param name="UpperRank">Likewise; n + 1 when there is none.</param>
/// <param name="N">How many values.</param>
public sealed record QuantileEstimate(
    double Value, double? Lower, double? Upper, double Level, double Coverage, long LowerRank, long UpperRank, long N);

/// <summary>Quantiles and medians of values that come as a table of value and how many: such tables add, quantiles do not.</summary>
public static class Quantiles
{
    public const string Method = "order_statistics";

    public const string Source = "value: Hyndman RJ, Fan Y. Am Stat 1996;50:361-365, definition 7; interval: Conover WJ. "
        + "Practical Nonparametric Statistics, 3rd ed. 1999, section 3.2";

    /// <summary>
    /// The value interpolates at the position (n − 1) p between order statistics. The interval goes from the l-th to the u-th value with
    /// P(X &lt; l) ≤ α/2 and P(X ≥ u) ≤ α/2 for X ~ Binomial(n, p), l as high and u as low as that allows.
    /// </summary>
    /// <param name="values">Values and how many of each, in any order; the same value may come more than once.</param>
    /// <param name="p">Which quantile, above 0 and below 1; 0.5 is the median.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>The quantile in the unit of the values; null without a value.</returns>
    /// <remarks>
    /// Assumes independent records and nothing about their distribution. Values rounded to whole units make ties, which leave the coverage
    /// at least as stated. Fewer than 6 values bound no median at 95 %. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A number of values is negative, a value is not finite, or p or the level is out of
    /// range.</exception>
    public static QuantileEstimate? Estimate(IEnumerable<(double Value, long N)> values, double p = 0.5, double level = 0.95)
    {
        if (!(p > 0 && p < 1))
            throw new ArgumentOutOfRangeException(nameof(p), p, "a quantile lies above 0 and below 1");
        Requires.Level(level);
        var table = Sorted(values);
        var n = table.Sum(row => row.N);
        if (n == 0)
            return null;
        var tail = (1 - level) / 2;
        var lower = LowerRank(n, p, tail);
        // The u-th value from below is the mirror of a lower rank from above.
        var upper = n + 1 - LowerRank(n, 1 - p, tail);
        var outside = (lower == 0 ? 0 : Below(lower, n, p)) + (upper > n ? 0 : Below(n + 1 - upper, n, 1 - p));
        return new(
            Interpolated(table, n, p),
            lower == 0 ? null : At(table, lower),
            upper > n ? null : At(table, upper),
            level, 1 - outside, lower, upper, n);
    }

    /// <summary>The quantile alone; null without a value.</summary>
    /// <inheritdoc cref="Estimate" path="/param[@name='values']"/>
    /// <inheritdoc cref="Estimate" path="/param[@name='p']"/>
    public static double? Find(IEnumerable<(double Value, long N)> values, double p)
    {
        if (!(p >= 0 && p <= 1))
            throw new ArgumentOutOfRangeException(nameof(p), p, "a quantile lies between 0 and 1");
        var table = Sorted(values);
        var n = table.Sum(row => row.N);
        return n == 0 ? null : Interpolated(table, n, p);
    }

    private static (double Value, long N)[] Sorted(IEnumerable<(double Value, long N)> values)
    {
        var table = values.ToArray();
        foreach (var (value, n) in table)
            if (n < 0 || !double.IsFinite(value))
                throw new ArgumentOutOfRangeException(nameof(values), (value, n),
                    "values are finite and there are no fewer than 0 of each");
        return [.. table.Where(row => row.N > 0).OrderBy(row => row.Value)];
    }

    private static double Interpolated((double Value, long N)[] table, long n, double p)
    {
        var place = (n - 1) * p;
        var below = (long)Math.Floor(place);
        double low = At(table, below + 1), high = At(table, Math.Min(below + 2, n));
        return low + ((place - below) * (high - low));
    }

    /// <summary>The value of a rank, from 1.</summary>
    private static double At((double Value, long N)[] table, long rank)
    {
        foreach (var (value, n) in table)
        {
            if (rank <= n)
                return value;
            rank -= n;
        }
        return table[^1].Value;
    }

    /// <summary>The highest l with P(X &lt; l) ≤ tail for X ~ Binomial(n, p); 0 when even P(X &lt; 1) is more.</summary>
    private static long LowerRank(long n, double p, double tail)
    {
        var (some, none) = (0L, n + 1);
        while (none - some > 1)
        {
            var middle = some + ((none - some) / 2);
            if (Below(middle, n, p) <= tail)
                some = middle;
            else
                none = middle;
        }
        return some;
    }

    private static double Below(long rank, long n, double p) => IncompleteBeta.AtMost(rank - 1, n, p, 1 - p);
}
