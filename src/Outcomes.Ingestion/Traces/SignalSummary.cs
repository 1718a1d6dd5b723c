namespace Outcomes.Ingestion.Traces;

/// <summary>Whether a signal can be judged.</summary>
public enum TraceStatus
{
    Sufficient,

    /// <summary>Less of the window is known than <see cref="TraceRules.LeastCoverage"/>: durations are missing.</summary>
    LowCoverage,

    /// <summary>The sampling interval is unknown or too long: durations are missing.</summary>
    TooSparse,

    /// <summary>No sample that counts lies in the window.</summary>
    NoSamples,
}

/// <summary>What holds of any signal in a window.</summary>
/// <param name="Status">Whether durations can be given.</param>
/// <param name="Coverage">Share of the window that is known, 0 to 1; null where the interval is unknown.</param>
/// <param name="Lowest">Lowest sample in the window, both ends included. What was seen was seen: given at any coverage.</param>
/// <param name="First">The first sample within the window.</param>
/// <param name="Last">The one behind the last sample within it.</param>
public sealed record SignalSummary(TraceStatus Status, double? Coverage, double? Lowest, int First, int Last)
{
    public static SignalSummary Of(CleanSignal signal, int endMs, int sparsestMs)
    {
        int first = 0, last = 0;
        long known = 0;
        double? lowest = null;
        for (var i = 0; i < signal.Count; i++)
        {
            if (signal.Ms(i) < 0) first = i + 1;
            if (signal.Ms(i) <= endMs) last = i + 1;
            known += signal.Within(i, 0, endMs);
        }

        for (var i = first; i < last; i++)
            if (!(signal.Value(i) >= lowest)) lowest = signal.Value(i);
        double? coverage = signal.IntervalMs is null || endMs <= 0 ? null : known / (double)endMs;
        var status = lowest is null ? TraceStatus.NoSamples
            : signal.IntervalMs is not { } interval || interval > sparsestMs ? TraceStatus.TooSparse
            : !(coverage >= TraceRules.LeastCoverage) ? TraceStatus.LowCoverage
            : TraceStatus.Sufficient;
        return new SignalSummary(status, coverage, lowest, first, Math.Max(first, last));
    }

    /// <summary>
    /// Milliseconds of the window below a limit, and points below it times milliseconds; null where they cannot be given.
    /// </summary>
    public (long Ms, double Area)? Below(CleanSignal signal, double limit, int endMs)
    {
        if (Status != TraceStatus.Sufficient) return null;
        long ms = 0;
        double area = 0;
        for (var i = 0; i < signal.Count; i++)
            if (signal.Value(i) < limit && signal.Within(i, 0, endMs) is var within and > 0)
            {
                ms += within;
                area += (limit - signal.Value(i)) * within;
            }

        return (ms, area);
    }
}
