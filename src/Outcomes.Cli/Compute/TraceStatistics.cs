using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Traces;
using Outcomes.Records;

namespace Outcomes.Cli.Compute;

/// <summary>The summary of one trace, as the fields of its record.</summary>
internal static class TraceStatistics
{
    private static readonly ImmutableArray<(string Name, Signal Signal, string Unit)> Signals =
    [
        ("spo2", Signal.SpO2, "%"), ("etco2", Signal.EtCO2, "kPa"), ("rr", Signal.RespiratoryRate, "breaths a minute"),
        ("sbp", Signal.Systolic, "mmHg"), ("map", Signal.Mean, "mmHg"),
    ];

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("trace_summary", "what the monitor's samples of one record show, in the window from induction on",
            [
                .. Signals.Select(signal => new ComputeInput(signal.Name, "list of samples",
                    $"pairs of seconds from induction and value ({signal.Unit}); null is a row without a value", "[]")),
                new("apnoea_s", "integer", "seconds from induction to the start of apnoea", "unknown"),
                new("tube_s", "integer", "seconds from induction to the confirmation of the airway", "unknown"),
                new("observation_window", "text", "to_2min, to_30min, to_60min or other", "unknown"),
            ],
            "Rules of docs/statistics/traces.md, proposals of this project; carbon dioxide over seven breaths: "
                + "Chrimes 2022, Anaesthesia 77.",
            """{"tube_s": 20, "spo2": [[0, 97], [10, 92], [20, 88], [30, 86], [40, 95], [50, 96]]}""",
            Summarise),
    ];

    private static JsonObject Summarise(ComputeInputs inputs)
    {
        var samples = Signals.ToDictionary(signal => signal.Signal, signal => inputs.Samples(signal.Name));
        var times = new RecordTimes(Seconds("apnoea_s"), Seconds("tube_s"),
            inputs.Has("observation_window") ? inputs.Choice("observation_window", "to_2min", "to_30min", "to_60min", "other") : null);
        var summary = TraceSummary.Of(signal => samples.GetValueOrDefault(signal), times);
        var result = new JsonObject();
        foreach (var field in FieldDictionary.Shipped.FromTraces)
            result[field.Name] = SummaryRow.Value(summary, field) switch
            {
                null => null,
                var value when field.Type == FieldType.Code => field.Allowed[(int)value],
                var value when field.Type == FieldType.YesNo => value == 1,
                var value => Numbers.Of(value),
            };
        return result;

        int? Seconds(string name) => inputs.Has(name) ? (int)inputs.Integer(name, 0, 7200) : null;
    }
}
