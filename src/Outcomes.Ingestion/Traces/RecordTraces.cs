using Outcomes.Ingestion.Reading;

namespace Outcomes.Ingestion.Traces;

/// <summary>The samples of one record by signal, as slices of a part.</summary>
public sealed class RecordTrace
{
    private readonly ReadOnlyMemory<Sample>[] _signals = new ReadOnlyMemory<Sample>[Enum.GetValues<Signal>().Length];

    internal void Set(Signal signal, ReadOnlyMemory<Sample> samples) => _signals[(int)signal] = samples;

    /// <summary>A signal's samples in order of time.</summary>
    public ReadOnlySpan<Sample> Of(Signal signal) => _signals[(int)signal].Span;
}

/// <summary>Walks a trace file in the store record by record.</summary>
internal static class RecordTraces
{
    /// <summary>Each record's place among the sums of its file, and its samples.</summary>
    /// <param name="folder">The file's folder in the store.</param>
    /// <param name="samples">Room for one part; it is filled again and again.</param>
    public static IEnumerable<(int Record, RecordTrace Trace)> In(string folder, SamplePart samples)
    {
        for (var part = 0; part < TraceFile.Parts(folder); part++)
        {
            samples.Read(TraceFile.Part(folder, part));
            foreach (var record in Records(samples)) yield return record;
        }
    }

    private static IEnumerable<(int Record, RecordTrace Trace)> Records(SamplePart part)
    {
        var (keys, values, count) = (part.Keys, part.Values, part.Count);
        for (var start = 0; start < count;)
        {
            var record = StoredSample.RecordOf(keys[start]);
            var trace = new RecordTrace();
            var end = start;
            while (end < count && StoredSample.RecordOf(keys[end]) == record)
            {
                var from = end;
                var signal = StoredSample.SignalOf(keys[from]);
                while (end < count && StoredSample.RecordOf(keys[end]) == record && StoredSample.SignalOf(keys[end]) == signal) end++;
                var samples = new Sample[end - from];
                for (var i = 0; i < samples.Length; i++) samples[i] = new Sample(StoredSample.MsOf(keys[from + i]), values[from + i]);
                trace.Set(signal, samples);
            }

            yield return (record, trace);
            start = end;
        }
    }
}
