using System.IO.Compression;
using Outcomes.Records;
using Parquet;
using Parquet.Schema;

namespace Outcomes.Ingestion.Store;

/// <summary>Writes why cells are missing, sparsely: most missing cells are blank and have no row here.</summary>
public sealed class ReasonsTable : IDisposable
{
    private readonly DataField _table = new("tab", typeof(string), isNullable: false);
    private readonly DataField _row = new("row", typeof(int), isNullable: false);
    private readonly DataField _attempt = new("attempt_no", typeof(int), isNullable: false);
    private readonly DataField _field = new("field", typeof(string), isNullable: false);
    private readonly DataField _reason = new("reason", typeof(string), isNullable: false);
    private readonly FileStream _file;
    private readonly ParquetWriter _writer;

    public ReasonsTable(string path)
    {
        var options = new ParquetOptions { CompressionMethod = CompressionMethod.Zstd, CompressionLevel = CompressionLevel.Optimal };
        foreach (var text in (DataField[])[_table, _field, _reason])
            options.ColumnEncodingHints[text.Name] = EncodingHint.Dictionary;
        _file = new FileStream(path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, 1 << 16);
        _writer = ParquetWriter.CreateAsync(new ParquetSchema(_table, _row, _attempt, _field, _reason), _file, options)
            .GetAwaiter().GetResult();
    }

    public static string Word(MissingReason reason) => reason switch
    {
        MissingReason.NotRecorded => "not_recorded",
        MissingReason.Unknown => "unknown",
        MissingReason.Withheld => "withheld",
        MissingReason.Invalid => "invalid",
        MissingReason.NotApplicable => "not_applicable",
        MissingReason.Unrecordable => "unrecordable",
        _ => "blank",
    };

    /// <summary>Writes the reasons of one batch; where rows are attempts, <paramref name="numbers"/> holds their numbers.</summary>
    public void Write(TableBatch batch, string table, int[]? numbers = null)
    {
        var reasons = batch.Reasons;
        using var group = _writer.CreateRowGroup();
        group.WriteAsync(_table, [.. reasons.Select(_ => table)]).GetAwaiter().GetResult();
        group.WriteAsync<int>(_row, reasons.Select(reason => batch.Row[reason.Row]).ToArray()).GetAwaiter().GetResult();
        group.WriteAsync<int>(_attempt, reasons.Select(reason => numbers is null ? reason.Attempt : Math.Max(0, numbers[reason.Row]))
            .ToArray()).GetAwaiter().GetResult();
        group.WriteAsync(_field, [.. reasons.Select(reason => reason.Field.Name)]).GetAwaiter().GetResult();
        group.WriteAsync(_reason, [.. reasons.Select(reason => Word(reason.Reason))]).GetAwaiter().GetResult();
        group.CompleteValidate();
    }

    public void Dispose()
    {
        _writer.DisposeAsync().AsTask().GetAwaiter().GetResult();
        _file.Dispose();
    }
}
