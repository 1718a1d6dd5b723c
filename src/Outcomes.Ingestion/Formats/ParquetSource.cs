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
    // A damaged file can keep the library busy without its reading anything. Time of the processor, not of the clock: a machine that is
    // busy with other things refuses no file.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(200);
    private const double SecondsPerMegabyte = 1;

    private static readonly Dictionary<Type, Func<Chunk, Func<int, object?>>> Readers = new()
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
            ParquetScreen.Footer(file);
            return Read(new BoundedStream(file), target, request);
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
        var library = new Library(Patience + TimeSpan.FromSeconds(SecondsPerMegabyte * file.Length / (1 << 20)));
        var reader = Open(file, library);
        try
        {
            var fields = reader.Schema.Fields.OfType<DataField>()
                .Where(field => !field.IsArray && Readers.ContainsKey(field.ClrType)).ToImmutableArray();
            ParquetScreen.Columns(fields.Length, request.File);
            var table = new TextTable(target, [.. fields.Select(field => field.Name.Trim())], 0, request);
            var place = 1;
            for (var i = 0; i < reader.RowGroupCount && place <= request.MostRows; i++)
            {
                using var group = reader.OpenRowGroupReader(i);
                var rows = ParquetScreen.Rows(group, fields, file.Length, request.File);
                var columns = fields.Select(field => Cells(new(group, field, rows, library))).ToArray();
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

    private static ParquetReader Open(Stream file, Library library) => library.Wait(() =>
        ParquetReader.CreateAsync(file, new ParquetOptions { UseDateOnlyTypeForDates = true }, leaveStreamOpen: true));

    private static Func<int, object?> Cells(Chunk chunk)
    {
        var cells = Readers[chunk.Field.ClrType](chunk);
        return chunk.Field is TimeDataField time
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

    private static Func<int, object?> Texts(Chunk chunk)
    {
        var values = new string?[chunk.Rows];
        chunk.Library.Wait(() => chunk.Group.ReadAsync(chunk.Field, values.AsMemory()!).AsTask());
        return row => values[row];
    }

    private static Func<int, object?> Values<T>(Chunk chunk)
        where T : struct
    {
        if (!chunk.Field.IsNullable)
        {
            var present = new T[chunk.Rows];
            chunk.Library.Wait(() => chunk.Group.ReadAsync<T>(chunk.Field, present.AsMemory()).AsTask());
            return row => present[row];
        }

        var values = new T?[chunk.Rows];
        chunk.Library.Wait(() => chunk.Group.ReadAsync<T>(chunk.Field, values.AsMemory()).AsTask());
        return row => values[row];
    }

    /// <summary>A column of a row group.</summary>
    private sealed record Chunk(ParquetRowGroupReader Group, DataField Field, int Rows, Library Library);

    /// <summary>Calls of the library, each with an end, and each fault of theirs one of the file's.</summary>
    private sealed record Library(TimeSpan Patience)
    {
        public T Wait<T>(Func<Task<T>> call)
        {
            var task = Task.Run(call);
            End(task);
            return task.GetAwaiter().GetResult();
        }

        public void Wait(Func<Task> call) => End(Task.Run(call));

        // A call that is given up goes on until the program ends, which its refusal brings about.
        private void End(Task task)
        {
            var began = Environment.CpuUsage.TotalTime;
            while (Task.WhenAny(task, Task.Delay(Look)).GetAwaiter().GetResult() != task)
                if (Environment.CpuUsage.TotalTime - began > Patience)
                    throw new InvalidDataException("read without end");
            try
            {
                task.GetAwaiter().GetResult();
            }
            catch (IOException e)
            {
                // The library says by an IOException too that a file is no Parquet file; reading the disk is not at fault then.
                throw new InvalidDataException("no Parquet file", e);
            }
        }
    }
}
