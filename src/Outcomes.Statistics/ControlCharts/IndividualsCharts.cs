using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>A chart of single values (X) with that of their moving ranges (mR).</summary>
/// <param name="Values">The values, about the baseline's mean.</param>
/// <param name="Ranges">|x_i − x_{i−1}| at the later point; the first point and gaps have none.</param>
public sealed record IndividualsChart(ControlChart Values, ControlChart Ranges);

/// <summary>Makes XmR charts.</summary>
public static class IndividualsCharts
{
    /// <summary>Where the chart comes from.</summary>
    public const string Source =
        "NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.2; factors 2.66 and 3.267 as printed there and in ASTM E2587";

    /// <summary>3 over the mean range of two values (3/1.128), rounded as printed.</summary>
    public const double ValueFactor = 2.66;

    /// <summary>The upper limit of a range of two over its mean, rounded as printed.</summary>
    public const double RangeFactor = 3.267;

    /// <summary>
    /// Values with limits x̄ ± 2.66 mR̄, and moving ranges with the limit 3.267 mR̄, where x̄ and mR̄ are the means of the baseline's
    /// values and of the ranges between neighbours that both lie in it.
    /// </summary>
    /// <param name="values">One value a point, in time order and in any unit; null is a gap.</param>
    /// <param name="baseline">The points whose values give the centre and the limits.</param>
    /// <remarks>
    /// Assumes independent values from roughly one normal distribution; values that trend or cycle make the limits too narrow. Neighbours
    /// are values with only gaps between them. Not for proportions of few cases, nor for waiting times, which are far from normal
    /// (<see cref="RareEventChart"/>). The limits are not cut: they may leave the range that a value can take. With fewer than two baseline
    /// values, or with values that are all the same, there are none. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite, or the baseline is out of range.</exception>
    public static IndividualsChart Analyse(ImmutableArray<double?> values, ChartBaseline baseline)
    {
        ChartBaseline.Require(baseline);
        RequireFinite(values);
        var before = Before(values);
        var ranges = Ranges(values, before);
        // An average without any value is null.
        var mean = values.Where((_, i) => baseline.Contains(i)).Average();
        var range = ranges.Where((_, i) => baseline.Contains(i) && baseline.Contains(before[i])).Average();
        var doubts = Doubts(values, baseline, range);
        var width = range > 0 ? range : null;
        return new(
            Chart("individuals", values, baseline, mean, (mean - (ValueFactor * width), mean + (ValueFactor * width)), range, doubts),
            Chart("moving_range", ranges, baseline, range, (null, RangeFactor * width), range, doubts));
    }

    private static void RequireFinite(ImmutableArray<double?> values)
    {
        foreach (var value in values)
            if (value.HasValue && !double.IsFinite(value.Value))
                throw new ArgumentOutOfRangeException(nameof(values), value, "a value is finite, or null for a gap");
    }

    /// <summary>The position of the value before each position, gaps passed over; -1 where there is none.</summary>
    private static int[] Before(ImmutableArray<double?> values)
    {
        var before = new int[values.Length];
        var last = -1;
        for (var i = 0; i < values.Length; i++)
        {
            before[i] = last;
            if (values[i].HasValue)
                last = i;
        }

        return before;
    }

    private static ImmutableArray<double?> Ranges(ImmutableArray<double?> values, int[] before) =>
        [.. values.Select((value, i) => before[i] < 0 || value is null ? (double?)null : Math.Abs(value.Value - values[before[i]]!.Value))];

    private static ImmutableArray<ChartDoubt> Doubts(ImmutableArray<double?> values, ChartBaseline baseline, double? range)
    {
        if (range is not > 0)
            return [range is null ? ChartDoubt.NoBaseline : ChartDoubt.NoVariation];
        return values.Where((value, i) => value.HasValue && baseline.Contains(i)).Count() < AttributeCharts.EnoughPoints
            ? [ChartDoubt.ShortBaseline]
            : [];
    }

    private static ControlChart Chart(
        string method, ImmutableArray<double?> plotted, ChartBaseline baseline, double? centre, (double? Lower, double? Upper) limits,
        double? range, ImmutableArray<ChartDoubt> doubts) => new()
        {
            Method = method,
            Source = Source,
            Centre = centre,
            Variation = range,
            Points = [.. plotted.Select((value, i) => new ControlPoint(i, value, value is null ? null : limits.Lower,
                value is null ? null : limits.Upper, baseline.Contains(i)))],
            Doubts = doubts,
        };
}
