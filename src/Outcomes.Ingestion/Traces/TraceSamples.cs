namespace Outcomes.Ingestion.Traces;

/// <summary>The stored samples of a few records, for those who draw them.</summary>
public static class TraceSamples
{
    /// <summary>
    /// A record's trace as that of the newest source that holds any of it; records without one are absent. Walks the store part by part, so
    /// that memory holds one part and the records asked for.
    /// </summary>
    public static Dictionary<string, RecordTrace> Of(TraceSet traces, IReadOnlySet<string> recordIds)
    {
        var found = new Dictionary<string, RecordTrace>(StringComparer.Ordinal);
        var part = new SamplePart();
        foreach (var source in traces.Traces)
        {
            var rows = TraceFile.Read(source.Stored.Folder);
            foreach (var (record, trace) in RecordTraces.In(source.Stored.Folder, part))
                if (recordIds.Contains(rows[record].Key) && rows[record].HoldTrace) found[rows[record].Key] = trace;
        }

        return found;
    }
}
