using System.Runtime.CompilerServices;
using System.Text;
using Outcomes.Records;
using Parquet;
using Parquet.Schema;
using Field = Outcomes.Records.Field;

namespace Outcomes.Ingestion.Store;

/// <summary>Writes batches of one table as row groups of a Parquet file: the same batches, the same bytes.</summary>
public sealed class ParquetTable : IDisposable
{
    private readonly FileStream _file;
    private readonly ParquetWriter _writer;
    private readonly DataField _row = new("row", typeof(int), isNullable: false);
    private readonly DataField _line = new("line", typeof(int), isNullable: false);
    private readonly DataField? _key;
    private readonly DataField? _number;
    private readonly List<(int Buffer, Column Column, DataField Data)> _columns = [];
    private int[] _levels = [];
    private int[] _ints = [];
    private double[] _doubles = [];
    private bool[] _bools = [];
    private DateOnly[] _dates = [];
    private ReadOnlyMemory<char>[] _texts = [];
    private char[] _chars = [];

    /// <param name="path">The file to write.</param>
    /// <param name="fields">The batch's fields, in buffer order.</param>
    /// <param name="wideAttempts">True to add <c>record_id</c> and <c>attempt_no</c>, which come from the record's row and heading.</param>
    public ParquetTable(string path, IEnumerable<Field> fields, bool wideAttempts)
    {
        // Uncompressed: dictionaries make the store about half the size of its source all the same, and packing it tighter cost a tenth
        // of a run of a million rows, on writing and again on every count (docs/performance.md).
        var options = new ParquetOptions
        {
            CompressionMethod = CompressionMethod.None,
            MaximumSmallPoolFreeBytes = 4 << 20,
            MaximumLargePoolFreeBytes = 8 << 20,
        };
        var data = new List<DataField> { _row, _line };
        if (wideAttempts)
        {
            data.Add(_key = new DataField("record_id", typeof(string), isNullable: true));
            data.Add(_number = new DataField("attempt_no", typeof(int), isNullable: false));
        }

        var buffer = 0;
        foreach (var field in fields)
        {
            foreach (var column in Column.Of(field))
            {
                var dataField = new DataField(column.Name, ClrType(column), isNullable: true);
                if (field.Type == FieldType.Code) options.ColumnEncodingHints[column.Name] = EncodingHint.Dictionary;
                _columns.Add((buffer, column, dataField));
                data.Add(dataField);
            }

            buffer++;
        }

        _file = new FileStream(path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, 1 << 16);
        _writer = Wait(ParquetWriter.CreateAsync(new ParquetSchema(data), _file, options));
    }

    /// <summary>Writes a batch as one row group; an empty batch writes nothing.</summary>
    /// <param name="batch">The rows.</param>
    /// <param name="records">For attempts in columns: the records' batch, its key column and each attempt's number and record.</param>
    public void Write(TableBatch batch, (ColumnBuffer Keys, IReadOnlyList<(int Number, int Record)> Of)? records = null)
    {
        var rows = batch.Rows;
        if (rows == 0) return;
        using var group = _writer.CreateRowGroup();
        Wait(group.WriteAsync<int>(_row, batch.Row.AsMemory(0, rows)));
        Wait(group.WriteAsync<int>(_line, batch.Line.AsMemory(0, rows)));
        if (records is var (keys, of))
        {
            WriteTexts(group, _key!, rows, i => keys.Text(of[i].Record));
            Sized(ref _ints, rows);
            for (var i = 0; i < rows; i++) _ints[i] = of[i].Number;
            Wait(group.WriteAsync<int>(_number!, _ints.AsMemory(0, rows)));
        }

        foreach (var (buffer, column, data) in _columns)
            WriteColumn(group, data, column, batch.Columns[buffer], rows);
        group.CompleteValidate();
    }

    public void Dispose()
    {
        Wait(_writer.DisposeAsync().AsTask());
        _file.Dispose();
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void WriteColumn(ParquetRowGroupWriter group, DataField data, Column column, ColumnBuffer buffer, int rows)
    {
        Sized(ref _levels, rows);
        var present = 0;
        switch (column.Field.Type)
        {
            case FieldType.Text:
                WriteTexts(group, data, rows, buffer.Text);
                return;
            case FieldType.Code:
                Sized(ref _texts, rows);
                var allowed = column.Field.Allowed.Select(value => value.AsMemory()).ToArray();
                for (var i = 0; i < rows; i++)
                    if (Present(buffer.Ints[i], i)) _texts[present++] = allowed[buffer.Ints[i]];
                Put(group, data, _texts, present, rows);
                return;
            case FieldType.YesNo:
                Sized(ref _bools, rows);
                for (var i = 0; i < rows; i++)
                    if (Present(buffer.Ints[i], i)) _bools[present++] = buffer.Ints[i] == 1;
                Put(group, data, _bools, present, rows);
                return;
            case FieldType.Set:
                Sized(ref _bools, rows);
                var bit = 1 << column.Field.Allowed.IndexOf(column.Value!);
                for (var i = 0; i < rows; i++)
                    if (Present(buffer.Ints[i], i)) _bools[present++] = (buffer.Ints[i] & bit) != 0;
                Put(group, data, _bools, present, rows);
                return;
            case FieldType.Integer or FieldType.Time:
                Sized(ref _ints, rows);
                for (var i = 0; i < rows; i++)
                    if (Present(buffer.Ints[i], i)) _ints[present++] = buffer.Ints[i];
                Put(group, data, _ints, present, rows);
                return;
            case FieldType.Date:
                Sized(ref _dates, rows);
                for (var i = 0; i < rows; i++)
                    if (Present(buffer.Ints[i], i)) _dates[present++] = DateOnly.FromDayNumber(buffer.Ints[i]);
                Put(group, data, _dates, present, rows);
                return;
            case FieldType.Number:
                Sized(ref _doubles, rows);
                for (var i = 0; i < rows; i++)
                {
                    var known = !double.IsNaN(buffer.Doubles[i]);
                    _levels[i] = known ? 1 : 0;
                    if (known) _doubles[present++] = buffer.Doubles[i];
                }

                Put(group, data, _doubles, present, rows);
                return;
            default:
                throw new InvalidOperationException($"Field {column.Field.Name} has an unknown type.");
        }
    }

    private delegate ReadOnlySpan<byte> TextOf(int row);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void WriteTexts(ParquetRowGroupWriter group, DataField data, int rows, TextOf textOf)
    {
        Sized(ref _levels, rows);
        Sized(ref _texts, rows);
        var bytes = 0;
        for (var i = 0; i < rows; i++) bytes += textOf(i).Length;
        Sized(ref _chars, bytes);
        int present = 0, used = 0;
        for (var i = 0; i < rows; i++)
        {
            var text = textOf(i);
            _levels[i] = text.IsEmpty ? 0 : 1;
            if (text.IsEmpty) continue;
            var length = Encoding.UTF8.GetChars(text, _chars.AsSpan(used));
            _texts[present++] = _chars.AsMemory(used, length);
            used += length;
        }

        Put(group, data, _texts, present, rows);
    }

    private bool Present(int value, int row)
    {
        var known = value != ColumnBuffer.Missing;
        _levels[row] = known ? 1 : 0;
        return known;
    }

    private void Put<T>(ParquetRowGroupWriter group, DataField data, T[] values, int present, int rows)
        where T : struct => Wait(group.WriteAllPartsAsync<T>(data, values.AsMemory(0, present), _levels.AsMemory(0, rows), null, default));

    private static Type ClrType(Column column) => column.SqlType switch
    {
        "VARCHAR" => typeof(string),
        "BOOLEAN" => typeof(bool),
        "INTEGER" => typeof(int),
        "DOUBLE" => typeof(double),
        _ => typeof(DateOnly),
    };

    private static void Sized<T>(ref T[] array, int length)
    {
        if (array.Length < length) array = new T[Math.Max(length, array.Length * 2)];
    }

    // The library's tasks finish synchronously on a file; a console program has no context to return to.
    private static void Wait(Task task) => task.GetAwaiter().GetResult();

    private static T Wait<T>(Task<T> task) => task.GetAwaiter().GetResult();
}
