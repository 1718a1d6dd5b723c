namespace Outcomes.Ingestion.Traces;

/// <summary>The samples of one record by signal, as slices of a part.</summary>
public sealed class RecordTrace
{
    private readonly ReadOnlyMemory<Sample>[] _signals = new ReadOnlyMemory<Sample>[Enum.GetValues<Signal>().Length];

    internal void Set(Signal signal, ReadOnlyMemory<Sample> samples) => _signals[(int)signal] = samples;

    /// <summary>A signal's samples in order of time.</summary>
    public ReadOnlySpan<Sample> Of(Signal signal) => _signals[(int)signal].Span;
}

/// <summary>Walks a stored part record by record.</summary>
internal static class RecordTraces
{
    public static IEnumerable<(int Record, RecordTrace Trace)> In(string folder, int part)
    {
        var (keys, values) = TraceFile.Samples(folder, part);
        for (var start = 0; start < keys.Length;)
        {
            var record = StoredSample.RecordOf(keys[start]);
            var trace = new RecordTrace();
            var end = start;
            while (end < keys.Length && StoredSample.RecordOf(keys[end]) == record)
            {
                var from = end;
                var signal = StoredSample.SignalOf(keys[from]);
                while (end < keys.Length && StoredSample.RecordOf(keys[end]) == record && StoredSample.SignalOf(keys[end]) == signal) end++;
                var samples = new Sample[end - from];
                for (var i = 0; i < samples.Length; i++) samples[i] = new Sample(StoredSample.MsOf(keys[from + i]), values[from + i]);
                trace.Set(signal, samples);
            }

            yield return (record, trace);
            start = end;
        }
    }
}
