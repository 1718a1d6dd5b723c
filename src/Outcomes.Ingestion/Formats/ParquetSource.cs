using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Records;
using Parquet;
using Parquet.Schema;

namespace Outcomes.Ingestion.Formats;

/// <summary>
/// A Parquet file as a source: its columns by name, a row group at a time. Lists and other nested columns, bytes and numbers of more
/// digits than a decimal holds have no text and are not read. A row's place is its number.
/// </summary>
internal static class ParquetSource
{
    private const long MaximumRowGroup = 2L << 30;

    private static readonly Dictionary<Type, Func<ParquetRowGroupReader, DataField, int, Func<int, object?>>> Readers = new()
    {
        [typeof(string)] = Texts,
        [typeof(ReadOnlyMemory<char>)] = Texts,
        [typeof(bool)] = Values<bool>,
        [typeof(sbyte)] = Values<sbyte>,
        [typeof(byte)] = Values<byte>,
        [typeof(short)] = Values<short>,
        [typeof(ushort)] = Values<ushort>,
        [typeof(int)] = Values<int>,
        [typeof(uint)] = Values<uint>,
        [typeof(long)] = Values<long>,
        [typeof(ulong)] = Values<ulong>,
        [typeof(float)] = Values<float>,
        [typeof(double)] = Values<double>,
        [typeof(decimal)] = Values<decimal>,
        [typeof(DateTime)] = Values<DateTime>,
        [typeof(DateOnly)] = Values<DateOnly>,
        [typeof(TimeOnly)] = Values<TimeOnly>,
        [typeof(TimeSpan)] = Values<TimeSpan>,
        [typeof(Guid)] = Values<Guid>,
    };

    public static Conversion Convert(Stream file, StreamWriter target, TableRequest request)
    {
        try
        {
            return Read(file, target, request);
        }
        catch (Exception e) when (e is not (Failure or OutOfMemoryException) && (e is not IOException || e is EndOfStreamException))
        {
            // The library throws whatever a broken page leads it to; for a person it is one and the same thing.
            throw new Failure(ExitCode.Input, "the Parquet file is damaged or of a kind that is not read; write it anew, "
                + "or export it as CSV UTF-8", request.File, rule: "not_readable");
        }
    }

    private static Conversion Read(Stream file, StreamWriter target, TableRequest request)
    {
        var reader = Open(file);
        try
        {
            var fields = reader.Schema.Fields.OfType<DataField>()
                .Where(field => !field.IsArray && Readers.ContainsKey(field.ClrType)).ToImmutableArray();
            var table = new TextTable(target, [.. fields.Select(field => field.Name.Trim())], 0, request);
            var place = 1;
            for (var i = 0; i < reader.RowGroupCount && place <= request.MostRows; i++)
            {
                using var group = reader.OpenRowGroupReader(i);
                if (fields.Sum(field => group.GetMetadata(field)?.MetaData?.TotalUncompressedSize ?? 0) > MaximumRowGroup)
                    throw new Failure(ExitCode.Input, "a row group of the file unpacks to more than 2 GiB; "
                        + "write it with smaller row groups", request.File, rule: "parquet_limit");
                var rows = checked((int)group.RowCount);
                var columns = fields.Select(field => Cells(group, field, rows)).ToArray();
                for (var row = 0; row < rows && place <= request.MostRows; row++, place++)
                    table.Write(row, columns.Length, place, (at, column) => columns[column](at));
            }

            return new Conversion(TextTable.Separator, 1, 0, table.Lines, []);
        }
        finally
        {
            reader.DisposeAsync().AsTask().GetAwaiter().GetResult();
        }
    }

    // The library says by an IOException too that a file is no Parquet file; reading the disk is not at fault then.
    private static ParquetReader Open(Stream file)
    {
        try
        {
            return Wait(ParquetReader.CreateAsync(file, new ParquetOptions { UseDateOnlyTypeForDates = true }, leaveStreamOpen: true));
        }
        catch (IOException e)
        {
            throw new InvalidDataException("no Parquet file", e);
        }
    }

    private static Func<int, object?> Cells(ParquetRowGroupReader group, DataField field, int rows)
    {
        var cells = Readers[field.ClrType](group, field, rows);
        return field is TimeDataField time
            ? row => cells(row) is { } count ? Time(System.Convert.ToInt64(count, CultureInfo.InvariantCulture), time.Precision) : null
            : cells;
    }

    // A time of day is a count since midnight; the library gives the count.
    private static TimeSpan Time(long count, TimeUnitPrecision precision) => TimeSpan.FromTicks(precision switch
    {
        TimeUnitPrecision.Millis => count * TimeSpan.TicksPerMillisecond,
        TimeUnitPrecision.Micros => count * TimeSpan.TicksPerMicrosecond,
        _ => count / TimeSpan.NanosecondsPerTick,
    });

    private static Func<int, object?> Texts(ParquetRowGroupReader group, DataField field, int rows)
    {
        var values = new string?[rows];
        Wait(group.ReadAsync(field, values.AsMemory()!));
        return row => values[row];
    }

    private static Func<int, object?> Values<T>(ParquetRowGroupReader group, DataField field, int rows)
        where T : struct
    {
        if (!field.IsNullable)
        {
            var present = new T[rows];
            Wait(group.ReadAsync<T>(field, present.AsMemory()));
            return row => present[row];
        }

        var values = new T?[rows];
        Wait(group.ReadAsync<T>(field, values.AsMemory()));
        return row => values[row];
    }

    // The library's tasks finish synchronously on a file; a console program has no context to return to.
    private static T Wait<T>(ValueTask<T> task) => task.AsTask().GetAwaiter().GetResult();

    private static T Wait<T>(Task<T> task) => task.GetAwaiter().GetResult();

    private static void Wait(ValueTask task) => task.AsTask().GetAwaiter().GetResult();

    private static void Wait(Task task) => task.GetAwaiter().GetResult();
}
