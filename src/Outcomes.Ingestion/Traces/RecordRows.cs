using System.Collections.Immutable;
using Parquet;
using Parquet.Schema;

namespace Outcomes.Ingestion.Traces;

/// <summary>A stored row of a record that has a trace.</summary>
/// <param name="Source">Place of its source in the list.</param>
/// <param name="Row">0-based row within the source.</param>
/// <param name="Times">What it says of the times that a trace is judged by.</param>
internal readonly record struct RecordRow(int Source, int Row, RecordTimes Times);

/// <summary>
/// The stored rows of the records that have a trace: every version of a record, each with times of its own, since the ledger has yet to
/// say which counts.
/// </summary>
internal static class RecordRows
{
    /// <summary>Rows by key, for the keys that are wanted.</summary>
    public static Dictionary<string, List<RecordRow>> Of(IReadOnlyList<IngestedSource> sources, IReadOnlySet<string> wanted)
    {
        var rows = new Dictionary<string, List<RecordRow>>(StringComparer.Ordinal);
        for (var s = 0; s < sources.Count; s++)
            foreach (var path in sources[s].Stored.Records)
                Read(path, s, wanted, rows);
        return rows;
    }

    private static void Read(string path, int source, IReadOnlySet<string> wanted, Dictionary<string, List<RecordRow>> rows)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16);
        var reader = ParquetReader.CreateAsync(file, leaveStreamOpen: true).GetAwaiter().GetResult();
        try
        {
            var fields = reader.Schema.Fields.OfType<DataField>().ToImmutableDictionary(field => field.Name);
            for (var i = 0; i < reader.RowGroupCount; i++)
            {
                using var group = reader.OpenRowGroupReader(i);
                var count = checked((int)group.RowCount);
                var row = new int[count];
                Wait(group.ReadAsync<int>(fields["row"], row.AsMemory()));
                var (keys, observed) =
                    (Texts(group, fields, Mapping.Keys.RecordId, count), Texts(group, fields, "observation_window", count));
                var (apnoea, tube) = (Whole(group, fields, "t_apnoea_start_s", count), Whole(group, fields, "t_tube_confirmed_s", count));
                for (var at = 0; at < count; at++)
                    if (keys[at] is { } key && wanted.Contains(key))
                    {
                        if (!rows.TryGetValue(key, out var list)) rows[key] = list = [];
                        list.Add(new RecordRow(source, row[at], new RecordTimes(apnoea[at], tube[at], observed[at])));
                    }
            }
        }
        finally
        {
            reader.DisposeAsync().AsTask().GetAwaiter().GetResult();
        }
    }

    private static string?[] Texts(ParquetRowGroupReader group, ImmutableDictionary<string, DataField> fields, string name, int count)
    {
        var values = new string?[count];
        if (fields.TryGetValue(name, out var field)) Wait(group.ReadAsync(field, values.AsMemory()!));
        return values;
    }

    private static int?[] Whole(ParquetRowGroupReader group, ImmutableDictionary<string, DataField> fields, string name, int count)
    {
        var values = new int?[count];
        if (fields.TryGetValue(name, out var field)) Wait(group.ReadAsync<int>(field, values.AsMemory()));
        return values;
    }

    // The library's tasks finish synchronously on a file; a console program has no context to return to.
    private static void Wait(ValueTask task) => task.AsTask().GetAwaiter().GetResult();
}
