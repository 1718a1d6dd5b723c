using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Traces;

/// <summary>Traces that have been read, and the record sources with the fields worked out from them.</summary>
/// <param name="Sources">The sources of records and attempts; those of records have their trace fields.</param>
/// <param name="Traces">The sources of traces, in their order.</param>
/// <param name="Folder">Where the summaries lie in the store.</param>
public sealed record TraceSet(IReadOnlyList<IngestedSource> Sources, IReadOnlyList<IngestedSource> Traces, string Folder);

/// <summary>
/// Turns samples into fields of records. A record's trace is that of the newest source that holds any of it; each stored version of the
/// record is summarised with the times that it states. Like reading, a function of the store's content: done once, then found again.
/// </summary>
public static class TraceTables
{
    private const int BatchRows = 4096;

    /// <summary>Folders of summaries in the store start so.</summary>
    public const string FolderPrefix = "traces-";

    /// <summary>Summarises the traces for the records.</summary>
    /// <param name="sources">Sources of records and attempts, as read.</param>
    /// <param name="traces">Sources of traces, as read, in their order.</param>
    /// <param name="dictionary">The dictionary: its fields that come from traces are made.</param>
    /// <param name="store">The store's folder.</param>
    public static TraceSet Of(
        IReadOnlyList<IngestedSource> sources, IReadOnlyList<IngestedSource> traces, FieldDictionary dictionary, string store)
    {
        ImmutableArray<Field> fields = [.. dictionary.FromTraces];
        var folder = Path.Combine(store, FolderPrefix + Definition(sources, traces, fields));
        if (!Checksums.Hold(folder))
        {
            if (Directory.Exists(folder)) Directory.Delete(folder, recursive: true);
            var temporary = Path.Combine(store, "new-" + Path.GetRandomFileName());
            Directory.CreateDirectory(temporary);
            try
            {
                Write(temporary, sources, traces, fields);
                Checksums.Write(temporary);
                if (!Directory.Exists(folder)) Directory.Move(temporary, folder);
            }
            catch (IOException) when (Directory.Exists(folder))
            {
                // Another run has made the same folder meanwhile.
            }
            finally
            {
                if (Directory.Exists(temporary)) Directory.Delete(temporary, recursive: true);
            }
        }

        return new TraceSet([.. sources.Select((source, i) => source.Manifest.RowsAreAttempts ? source : source with
        {
            Stored = source.Stored with
            {
                Summaries = Directory.Exists(folder) && File.Exists(PathOf(folder, i)) ? [PathOf(folder, i)] : [],
                TraceFields = [.. fields.Select(field => field.Name)],
                ProcedureFields = source.Stored.ProcedureFields.Union(fields.Select(field => field.Name)),
            },
        })], traces, folder);
    }

    private static string PathOf(string folder, int source) =>
        Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"summaries-{source}.parquet"));

    private static void Write(
        string folder, IReadOnlyList<IngestedSource> sources, IReadOnlyList<IngestedSource> traces, ImmutableArray<Field> fields)
    {
        var held = traces.Select(trace => TraceFile.Read(trace.Stored.Folder)).ToArray();
        var newest = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var t = 0; t < held.Length; t++)
            foreach (var rows in held[t])
                if (rows.HoldTrace) newest[rows.Key] = t;
        var records = RecordRows.Of(sources, newest.Keys.ToHashSet(StringComparer.Ordinal));
        var batches = sources.Select(_ => new TableBatch(fields)).ToArray();
        foreach (var batch in batches) batch.Reset(BatchRows);
        var tables = new ParquetTable?[sources.Count];
        try
        {
            var samples = new SamplePart();
            for (var t = 0; t < traces.Count; t++)
                foreach (var (record, trace) in RecordTraces.In(traces[t].Stored.Folder, samples))
                {
                    if (newest.GetValueOrDefault(held[t][record].Key, -1) != t || !records.TryGetValue(held[t][record].Key, out var places))
                        continue;
                    foreach (var place in places)
                    {
                        var batch = batches[place.Source];
                        SummaryRow.Fill(batch, batch.Add(place.Row, 0), TraceSummary.Of(trace.Of, place.Times));
                        if (batch.Rows == BatchRows) Flush(place.Source);
                    }
                }

            for (var s = 0; s < sources.Count; s++) Flush(s);
        }
        finally
        {
            foreach (var table in tables) table?.Dispose();
        }

        void Flush(int source)
        {
            if (batches[source].Rows == 0) return;
            tables[source] ??= new ParquetTable(PathOf(folder, source), fields, wideAttempts: false);
            tables[source]!.Write(batches[source]);
            batches[source].Reset(BatchRows);
        }
    }

    // The store's folders are named by what made them, so their names stand for their content.
    private static string Definition(
        IReadOnlyList<IngestedSource> sources, IReadOnlyList<IngestedSource> traces, ImmutableArray<Field> fields)
    {
        var text = new StringBuilder().Append(TraceRules.Version).Append('\n');
        foreach (var source in sources) text.Append(Path.GetFileName(source.Stored.Folder)).Append('\n');
        text.Append('\n');
        foreach (var trace in traces) text.Append(Path.GetFileName(trace.Stored.Folder)).Append('\n');
        foreach (var field in fields)
            text.Append(field.Name).Append('|').Append(field.Type).Append('|').AppendJoin(',', field.Allowed).Append('\n');
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())))[..32];
    }
}
