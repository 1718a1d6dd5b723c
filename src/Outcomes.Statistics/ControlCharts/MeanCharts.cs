using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>The two sums of a tabular CUSUM after each value, both from 0.</summary>
/// <param name="High">Evidence of a rise.</param>
/// <param name="Low">Evidence of a fall.</param>
/// <param name="SignalAt">0-based value where either first exceeds the limit; null if neither does.</param>
public sealed record TabularCusum(ImmutableArray<double> High, ImmutableArray<double> Low, int? SignalAt);

/// <summary>Charts with memory for the mean of a measurement: tabular CUSUM and EWMA.</summary>
/// <remarks>
/// For teaching and for validating: target and standard deviation are taken as known, and a department knows neither. What decides about
/// change in a report is calibrated to the department's own volumes instead.
/// </remarks>
public static class MeanCharts
{
    /// <summary>Where the tabular CUSUM comes from.</summary>
    public const string CusumSource = "NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.3; Page ES. Biometrika 1954;41:100-115";

    /// <summary>Where the EWMA comes from.</summary>
    public const string EwmaSource = "NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.4; Roberts SW. Technometrics 1959;1:239-250";

    /// <summary>High = max(0, High + x − target − k) and Low = max(0, Low + target − k − x); a signal when either exceeds h.</summary>
    /// <param name="values">Values in time order.</param>
    /// <param name="target">The mean to hold, in the unit of the values.</param>
    /// <param name="allowance">k, half the shift to be found, at least 0, same unit.</param>
    /// <param name="limit">h, above 0, same unit.</param>
    /// <remarks>Assumes independent values with a known target. Source: <see cref="CusumSource"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">The allowance or the limit is out of range.</exception>
    public static TabularCusum Cusum(ReadOnlySpan<double> values, double target, double allowance, double limit)
    {
        if (!(allowance >= 0))
            throw new ArgumentOutOfRangeException(nameof(allowance), allowance, "an allowance is not negative");
        if (!(limit > 0))
            throw new ArgumentOutOfRangeException(nameof(limit), limit, "a limit lies above 0");
        var highs = ImmutableArray.CreateBuilder<double>(values.Length);
        var lows = ImmutableArray.CreateBuilder<double>(values.Length);
        double high = 0, low = 0;
        int? signal = null;
        for (var i = 0; i < values.Length; i++)
        {
            highs.Add(high = Math.Max(0, high + values[i] - target - allowance));
            lows.Add(low = Math.Max(0, low + target - allowance - values[i]));
            if (high > limit || low > limit)
                signal ??= i;
        }
        return new(highs.MoveToImmutable(), lows.MoveToImmutable(), signal);
    }

    /// <summary>E = λ x + (1 − λ) E from the target, with the limits target ± L σ √(λ/(2 − λ)) of the long run.</summary>
    /// <param name="values">Values in time order.</param>
    /// <param name="target">The mean to hold; where E starts.</param>
    /// <param name="deviation">σ of single values, above 0, known.</param>
    /// <param name="weight">λ, above 0 and at most 1.</param>
    /// <param name="multiple">L, above 0; 3 is usual.</param>
    /// <remarks>Assumes independent values. The limits are too wide for the first few values. Source: <see cref="EwmaSource"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A parameter is out of range.</exception>
    public static ControlChart Ewma(ReadOnlySpan<double> values, double target, double deviation, double weight, double multiple = 3)
    {
        if (!(deviation > 0))
            throw new ArgumentOutOfRangeException(nameof(deviation), deviation, "a standard deviation lies above 0");
        if (!(weight is > 0 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(weight), weight, "the weight lies above 0 and is at most 1");
        if (!(multiple > 0))
            throw new ArgumentOutOfRangeException(nameof(multiple), multiple, "the multiple lies above 0");
        var half = multiple * deviation * Math.Sqrt(weight / (2 - weight));
        var points = ImmutableArray.CreateBuilder<ControlPoint>(values.Length);
        var smooth = target;
        for (var i = 0; i < values.Length; i++)
            points.Add(new(i, smooth = (weight * values[i]) + ((1 - weight) * smooth), target - half, target + half, false));
        return new() { Method = "ewma", Source = EwmaSource, Centre = target, Points = points.MoveToImmutable(), Doubts = [] };
    }
}
