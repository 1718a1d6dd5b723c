using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Traces;

namespace Outcomes.Cli.Checking;

/// <summary>The monitor's signals of single records, thinned for a case page.</summary>
internal static class CaseSignals
{
    private const int MostPoints = 600;

    private static readonly (Signal Signal, string Name)[] Signals =
    [
        (Signal.SpO2, "spo2"), (Signal.Systolic, "sbp"), (Signal.EtCO2, "etco2")
    ];

    /// <summary>Signals by record id, for the records asked; empty without traces.</summary>
    public static IReadOnlyDictionary<string, ImmutableArray<CaseSignal>> Read(TraceSet? traces, IReadOnlySet<string> records)
    {
        if (traces is null)
            return ImmutableDictionary<string, ImmutableArray<CaseSignal>>.Empty;
        return TraceSamples.Of(traces, records.ToHashSet(StringComparer.Ordinal)).ToDictionary(
            pair => pair.Key,
            pair => Signals.Select(signal => Thin(pair.Value, signal.Signal, signal.Name)).OfType<CaseSignal>().ToImmutableArray(),
            StringComparer.Ordinal);
    }

    // A point stands for the lowest value of its seconds: a dip is never thinned away.
    private static CaseSignal? Thin(RecordTrace trace, Signal signal, string name)
    {
        var clean = CleanSignal.Of(trace.Of(signal));
        if (clean.Count == 0)
            return null;
        var span = (clean.Ms(clean.Count - 1) - clean.Ms(0)) / 1000;
        var thinned = clean.Count > MostPoints ? (span / MostPoints) + 1 : 0;
        var points = ImmutableArray.CreateBuilder<(double, double)>();
        for (var i = 0; i < clean.Count; i++)
        {
            var (lowest, from) = (clean.Value(i), clean.Ms(i));
            while (thinned > 0 && clean.Joined(i) && clean.Ms(i + 1) - from < thinned * 1000)
                lowest = Math.Min(lowest, clean.Value(++i));
            points.Add((from / 1000.0, lowest));
            if (i + 1 < clean.Count && !clean.Joined(i)) points.Add((clean.Ms(i) / 1000.0, double.NaN));
        }

        return new CaseSignal(name, points.ToImmutable(), thinned);
    }
}
