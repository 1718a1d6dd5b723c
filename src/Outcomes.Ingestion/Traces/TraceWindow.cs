namespace Outcomes.Ingestion.Traces;

/// <summary>What the record says of the times that a trace is judged by; null where it says nothing.</summary>
/// <param name="ApnoeaS">Seconds from induction to the start of apnoea.</param>
/// <param name="TubeS">Seconds from induction to the confirmation of the airway.</param>
/// <param name="Observation">The observation window: <c>to_2min</c>, <c>to_30min</c>, <c>to_60min</c> or <c>other</c>.</param>
public readonly record struct RecordTimes(int? ApnoeaS, int? TubeS, string? Observation);

/// <summary>What ended the window.</summary>
public enum WindowEnd
{
    ObservationWindow,
    AfterTube,
    TraceEnd,
}

/// <summary>
/// The time that a trace is judged in: from induction to the end of the record's observation window, so that the recorded and the
/// sampled lowest values are of one window. <c>to_2min</c> ends 2 min and <c>to_60min</c> 60 min after the tube was confirmed,
/// <c>to_30min</c> 30 min after induction; without a window that can be placed it ends 2 min after the tube, or else with the trace.
/// </summary>
/// <param name="EndMs">Its end, ms from induction; the start is 0.</param>
/// <param name="End">What ended it.</param>
public readonly record struct TraceWindow(int EndMs, WindowEnd End)
{
    /// <param name="times">What the record says.</param>
    /// <param name="traceEndMs">The last row of the trace, whatever its signal.</param>
    public static TraceWindow Of(RecordTimes times, int traceEndMs) => times switch
    {
        { Observation: "to_2min", TubeS: { } tube } => new((tube * 1000) + 120_000, WindowEnd.ObservationWindow),
        { Observation: "to_30min" } => new(1_800_000, WindowEnd.ObservationWindow),
        { Observation: "to_60min", TubeS: { } tube } => new((tube * 1000) + 3_600_000, WindowEnd.ObservationWindow),
        { TubeS: { } tube } => new((tube * 1000) + TraceRules.AfterTubeMs, WindowEnd.AfterTube),
        _ => new(Math.Max(0, traceEndMs), WindowEnd.TraceEnd),
    };
}
