using System.Collections.Immutable;
using Outcomes.Ingestion.Reading;

namespace Outcomes.Ingestion.Traces;

/// <summary>What one pressure shows in the window, mmHg and ms.</summary>
public sealed record PressureSummary(SignalSummary Signal, long? LowMs);

/// <summary>
/// What the samples of one record show, in the window of <see cref="TraceWindow"/>: pure, so that it can be worked by hand
/// (<c>docs/statistics/traces.md</c> states each rule with an example). Times in ms, saturation in %, areas in points times seconds.
/// </summary>
public sealed record TraceSummary
{
    public required TraceWindow Window { get; init; }

    /// <summary>Sampling interval of the saturation; null without two samples.</summary>
    public int? IntervalMs { get; init; }

    public required SignalSummary SpO2 { get; init; }

    /// <summary>Lowest sustained saturation in the window; given at any coverage, as the lowest sample is.</summary>
    public double? SustainedLowest { get; init; }

    public long? Below90Ms { get; init; }

    public long? Below80Ms { get; init; }

    public double? Area90 { get; init; }

    public double? Area80 { get; init; }

    /// <summary>From the start of apnoea, or else induction, to the first of k samples at 90 % or below; null when not reached.</summary>
    public int? TimeTo90Ms { get; init; }

    /// <summary>Points a minute from the start to the lowest sample up to the tube; null when the tube's time is unknown.</summary>
    public double? DesaturationRate { get; init; }

    /// <summary>From the first of k samples below 90 % to the first of k at 94 % or above, the rest of the trace through.</summary>
    public int? RecoveryMs { get; init; }

    /// <summary>
    /// Breaths in the longest unbroken run with carbon dioxide after the tube; null when the tube's time, the carbon dioxide or the
    /// rate is unknown.
    /// </summary>
    public double? Breaths { get; init; }

    public required PressureSummary Systolic { get; init; }

    public required PressureSummary Mean { get; init; }

    /// <summary>Summarises the samples of one record.</summary>
    /// <param name="signals">Samples by signal, each in order of time; a signal that is not there has none.</param>
    /// <param name="times">What the record says of its times.</param>
    public static TraceSummary Of(ImmutableDictionary<Signal, ReadOnlyMemory<Sample>> signals, RecordTimes times) =>
        Of(signal => signals.GetValueOrDefault(signal).Span, times);

    /// <summary>A signal's samples, in order of time.</summary>
    public delegate ReadOnlySpan<Sample> SamplesOf(Signal signal);

    /// <summary>Summarises the samples of one record.</summary>
    public static TraceSummary Of(SamplesOf samples, RecordTimes times)
    {
        var end = int.MinValue;
        foreach (var signal in Enum.GetValues<Signal>())
            if (samples(signal) is { IsEmpty: false } any) end = Math.Max(end, any[^1].Ms);
        var window = TraceWindow.Of(times, end);
        var spo2 = CleanSignal.Of(samples(Signal.SpO2), TraceRules.SpO2Jump);
        var seen = SignalSummary.Of(spo2, window.EndMs, TraceRules.SparsestMs);
        var (below90, below80) =
            (seen.Below(spo2, TraceRules.Hypoxaemia, window.EndMs), seen.Below(spo2, TraceRules.SevereHypoxaemia, window.EndMs));
        var judged = seen.Status == TraceStatus.Sufficient;
        return new TraceSummary
        {
            Window = window,
            IntervalMs = spo2.IntervalMs,
            SpO2 = seen,
            SustainedLowest = Sustained.Lowest(spo2, seen.First, seen.Last),
            Below90Ms = below90?.Ms,
            Below80Ms = below80?.Ms,
            Area90 = below90?.Area / 1000,
            Area80 = below80?.Area / 1000,
            TimeTo90Ms = judged ? TimeTo90(spo2, times, window) : null,
            DesaturationRate = judged ? Desaturation(spo2, times) : null,
            RecoveryMs = judged ? Recovery(spo2, window) : null,
            Breaths = times.TubeS is { } tube
                ? CarbonDioxide.Breaths(CleanSignal.Of(samples(Signal.EtCO2)), CleanSignal.Of(samples(Signal.RespiratoryRate)),
                    tube * 1000, window.EndMs)
                : null,
            Systolic = Pressure(samples(Signal.Systolic), window.EndMs, TraceRules.LowSystolic),
            Mean = Pressure(samples(Signal.Mean), window.EndMs, TraceRules.LowMean),
        };
    }

    private static int? TimeTo90(CleanSignal spo2, RecordTimes times, TraceWindow window)
    {
        var start = (times.ApnoeaS ?? 0) * 1000;
        return Sustained.Start(spo2, start, window.EndMs, value => value <= TraceRules.Hypoxaemia) is { } at ? spo2.Ms(at) - start : null;
    }

    // From the value at the start (the last sample before it that still stands, or else the first after it) to the first of the lowest.
    private static double? Desaturation(CleanSignal spo2, RecordTimes times)
    {
        if (times.TubeS is not { } tube) return null;
        var (start, end) = ((times.ApnoeaS ?? 0) * 1000, tube * 1000);
        var from = -1;
        var lowest = -1;
        for (var i = 0; i < spo2.Count && spo2.Ms(i) <= end; i++)
        {
            if (spo2.Ms(i) <= start && start < spo2.Ms(i) + spo2.HoldMs(i)) from = i;
            if (spo2.Ms(i) < start) continue;
            if (from < 0) from = i;
            if (lowest < 0 || spo2.Value(i) < spo2.Value(lowest)) lowest = i;
        }

        if (from < 0 || lowest < 0) return null;
        var fall = spo2.Value(from) - spo2.Value(lowest);
        var ms = spo2.Ms(lowest) - Math.Max(start, spo2.Ms(from));
        return fall <= 0 ? 0 : ms > 0 ? fall / ms * 60_000 : null;
    }

    private static int? Recovery(CleanSignal spo2, TraceWindow window) =>
        Sustained.Start(spo2, 0, window.EndMs, value => value < TraceRules.Hypoxaemia) is { } fell
        && Sustained.Start(spo2, spo2.Ms(fell), int.MaxValue, value => value >= TraceRules.Recovered) is { } back
            ? spo2.Ms(back) - spo2.Ms(fell)
            : null;

    private static PressureSummary Pressure(ReadOnlySpan<Sample> samples, int endMs, double low)
    {
        var signal = CleanSignal.Of(samples, TraceRules.PressureJump);
        var seen = SignalSummary.Of(signal, endMs, TraceRules.SparsestPressureMs);
        return new PressureSummary(seen, seen.Below(signal, low, endMs)?.Ms);
    }
}
