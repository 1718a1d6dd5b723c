using System.Globalization;
using Parquet;
using Parquet.Schema;

namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>
/// Reads a Parquet file by a library that the tool's engine does not use, each cell as text; null where there is no value.
/// </summary>
internal static class ParquetTable
{
    public static async Task<IReadOnlyList<(string Name, Type Type, string?[] Cells)>> Read(string path)
    {
        await using var file = File.OpenRead(path);
        await using var reader = await ParquetReader.CreateAsync(file, new ParquetOptions { UseDateOnlyTypeForDates = true });
        var columns = reader.Schema.DataFields.Select(field => (Field: field, Cells: new List<string?>())).ToList();
        for (var i = 0; i < reader.RowGroupCount; i++)
        {
            using var group = reader.OpenRowGroupReader(i);
            foreach (var (field, cells) in columns)
                cells.AddRange(await Column(group, field, (int)group.RowCount));
        }

        return [.. columns.Select(column => (column.Field.Name, column.Field.ClrType, column.Cells.ToArray()))];
    }

    private static async Task<IEnumerable<string?>> Column(ParquetRowGroupReader group, DataField field, int rows)
    {
        if (field.ClrType != typeof(ReadOnlyMemory<char>))
            return field.ClrType == typeof(bool) ? (await Values<bool>(group, field, rows))
                .Select(value => value?.ToString().ToLowerInvariant())
                : field.ClrType == typeof(int) ? Texts(await Values<int>(group, field, rows))
                : field.ClrType == typeof(double) ? Texts(await Values<double>(group, field, rows))
                : field.ClrType == typeof(DateOnly)
                    ? (await Values<DateOnly>(group, field, rows))
                        .Select(value => value?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture))
                : throw new InvalidOperationException($"{field.Name} holds {field.ClrType}, which this reader does not know.");
        var texts = new string?[rows];
        await group.ReadAsync(field, texts.AsMemory()!);
        return texts;
    }

    private static IEnumerable<string?> Texts<T>(T?[] values)
        where T : struct, IFormattable => values.Select(value => value?.ToString(null, CultureInfo.InvariantCulture));

    private static async Task<T?[]> Values<T>(ParquetRowGroupReader group, DataField field, int rows)
        where T : struct
    {
        var values = new T?[rows];
        if (field.IsNullable)
        {
            await group.ReadAsync<T>(field, values.AsMemory());
            return values;
        }

        var present = new T[rows];
        await group.ReadAsync<T>(field, present.AsMemory());
        return [.. present.Select(value => (T?)value)];
    }
}
