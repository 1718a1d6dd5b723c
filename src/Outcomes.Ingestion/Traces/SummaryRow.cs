using System.Collections.Immutable;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Traces;

/// <summary>A summary as fields of the record. Lowest values are rounded down and durations to the whole second, half to even.</summary>
public static class SummaryRow
{
    private static readonly ImmutableArray<string> Statuses = ["sufficient", "low_coverage", "too_sparse", "no_samples"];

    private static readonly ImmutableArray<string> Ends = ["observation_window", "after_tube", "trace_end"];

    /// <summary>Sets the fields of one row of a batch; a field that the dictionary does not have is left out.</summary>
    public static void Fill(TableBatch batch, int at, TraceSummary summary)
    {
        foreach (var column in batch.Columns)
            if (Value(summary, column.Field) is not { } value) column.SetMissing(at);
            else if (column.IsNumber) column.Doubles[at] = value;
            else column.Ints[at] = (int)value;
    }

    /// <summary>
    /// The value of one field: a number, 1 or 0 for yes or no, or a code's place among the allowed values; null where it is missing or
    /// does not come from a trace.
    /// </summary>
    public static double? Value(TraceSummary summary, Field field) => field.Name switch
    {
        "trace_window" => field.Allowed.IndexOf(Ends[(int)summary.Window.End]),
        "trace_window_s" => Math.Max(1, Seconds(summary.Window.EndMs)!.Value),
        "trace_interval_s" => summary.IntervalMs / 1000.0,
        "trace_spo2_status" => Status(summary.SpO2, field),
        "trace_spo2_coverage" => Percent(summary.SpO2),
        "trace_spo2_min" => Floor(summary.SpO2.Lowest),
        "trace_spo2_min_sustained" => Floor(summary.SustainedLowest),
        "trace_spo2_lt90_s" => Seconds(summary.Below90Ms),
        "trace_spo2_lt80_s" => Seconds(summary.Below80Ms),
        "trace_spo2_area_lt90" => Rounded(summary.Area90),
        "trace_spo2_area_lt80" => Rounded(summary.Area80),
        "trace_time_to_90_s" => Seconds(summary.TimeTo90Ms),
        "trace_desaturation_rate" => Rounded(summary.DesaturationRate),
        "trace_recovery_s" => Seconds(summary.RecoveryMs),
        "trace_co2_breaths" => Floor(summary.Breaths),
        "trace_sustained_co2" => summary.Breaths is { } breaths ? breaths >= TraceRules.SustainedBreaths - 1e-9 ? 1 : 0 : null,
        "trace_sbp_status" => Status(summary.Systolic.Signal, field),
        "trace_sbp_coverage" => Percent(summary.Systolic.Signal),
        "trace_sbp_min" => Floor(summary.Systolic.Signal.Lowest),
        "trace_sbp_lt90_s" => Seconds(summary.Systolic.LowMs),
        "trace_map_status" => Status(summary.Mean.Signal, field),
        "trace_map_coverage" => Percent(summary.Mean.Signal),
        "trace_map_min" => Floor(summary.Mean.Signal.Lowest),
        "trace_map_lt65_s" => Seconds(summary.Mean.LowMs),
        _ => null,
    };

    private static double Status(SignalSummary signal, Field field) => field.Allowed.IndexOf(Statuses[(int)signal.Status]);

    private static double? Seconds(long? ms) => ms is { } known ? (double)Math.Round(known / 1000m, MidpointRounding.ToEven) : null;

    private static double? Percent(SignalSummary signal) => Rounded(signal.Coverage * 100);

    // To one decimal: what lies beyond is finer than any monitor.
    private static double? Rounded(double? value) =>
        value is { } known ? (double)Math.Round((decimal)known, 1, MidpointRounding.ToEven) : null;

    private static double? Floor(double? value) => value is { } known ? Math.Floor(known + 1e-9) : null;
}
