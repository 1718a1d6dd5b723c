using System.Text.Json;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>
/// JSON (RFC 8259) as a source: a list of objects, or objects one after the other as in JSON lines; each object is a row, and its keys are
/// the columns. A key that a row lacks is a blank cell there, and so is null. A row's place is its number.
/// </summary>
internal static class JsonSource
{
    // Held in memory twice at most: a list has to be read to its end before its columns are known.
    private const long Largest = 512L << 20;

    // As many as a workbook has.
    private const int MaximumColumns = 16_384;

    private static readonly byte[] ByteOrderMark = [0xEF, 0xBB, 0xBF];

    private static readonly JsonReaderOptions Options = new() { AllowMultipleValues = true };

    /// <summary>True when a file's first bytes are those of such JSON: an object, or a list that is empty or begins with one.</summary>
    public static bool Begins(ReadOnlySpan<byte> head)
    {
        if (head.StartsWith(ByteOrderMark)) head = head[ByteOrderMark.Length..];
        return AfterSpace(head) switch
        {
            [(byte)'[', .. var rest] => AfterSpace(rest) is [(byte)'{' or (byte)']', ..],
            [(byte)'{', .. var rest] => AfterSpace(rest) is [(byte)'"' or (byte)'}', ..],
            _ => false,
        };
    }

    public static Conversion Convert(Stream file, StreamWriter target, TableRequest request)
    {
        if (file.Length > Largest)
            throw new Failure(ExitCode.Input, "JSON of more than 512 MiB is not read; split it, or export it as CSV UTF-8",
                request.File, rule: "json_limit");
        var bytes = new byte[file.Length];
        file.ReadExactly(bytes);
        try
        {
            return Read(bytes, target, request);
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            // The library's own message can quote the text, and counts lines from 0.
            var line = e is JsonException { LineNumber: { } at } ? checked((int)at + 1) : 0;
            throw new Failure(ExitCode.Input, "the JSON is damaged from here on; save it anew, or export it as CSV UTF-8",
                request.File, line, "not_readable");
        }
    }

    private static Conversion Read(byte[] bytes, StreamWriter target, TableRequest request)
    {
        var columns = new Dictionary<string, int>(StringComparer.Ordinal);
        Rows(bytes, request, (row, _) =>
        {
            foreach (var (name, _) in row) columns.TryAdd(name, columns.Count);
            if (columns.Count > MaximumColumns)
                throw new Failure(ExitCode.Input, "the rows have more than 16,384 different keys; "
                    + "a row is one object with the same keys in each", request.File, rule: "json_limit");
        });
        var table = new TextTable(target, [.. columns.Keys], 0, request);
        Rows(bytes, request, (row, place) =>
        {
            var cells = new object?[columns.Count];
            foreach (var (name, value) in row) cells[columns[name]] = value;
            table.Write(cells, cells.Length, place, (all, i) => all[i]);
        });
        return new Conversion(TextTable.Separator, 1, 0, table.Lines, []);
    }

    private static void Rows(byte[] bytes, TableRequest request, Action<Dictionary<string, object?>, int> take)
    {
        var reader = new Utf8JsonReader(bytes.AsSpan(bytes.AsSpan().StartsWith(ByteOrderMark) ? ByteOrderMark.Length : 0), Options);
        var row = new Dictionary<string, object?>(StringComparer.Ordinal);
        var place = 0;
        while (place < request.MostRows && reader.Read())
        {
            if (reader.TokenType == JsonTokenType.EndArray || (reader.TokenType == JsonTokenType.StartArray && reader.CurrentDepth == 0))
                continue;
            place++;
            if (reader.TokenType != JsonTokenType.StartObject) throw Wrong("is no object", place, request);
            row.Clear();
            while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
            {
                var name = reader.GetString()!.Trim();
                reader.Read();
                if (!row.TryAdd(name, Value(ref reader, place, request))) throw Wrong("has one key twice", place, request);
            }

            take(row, place);
        }
    }

    private static object? Value(ref Utf8JsonReader reader, int place, TableRequest request) => reader.TokenType switch
    {
        JsonTokenType.Null => null,
        JsonTokenType.True => true,
        JsonTokenType.False => false,
        JsonTokenType.String => reader.GetString(),
        JsonTokenType.Number => reader.TryGetDecimal(out var number) ? number : reader.GetDouble(),
        _ => throw Wrong("holds a list or an object in a cell", place, request),
    };

    private static Failure Wrong(string what, int place, TableRequest request) =>
        new(ExitCode.Input, FormattableString.Invariant(
            $"row {place} {what}; a row is one object whose values are texts, numbers, true, false or null"),
            request.File, rule: "json_rows");

    private static ReadOnlySpan<byte> AfterSpace(ReadOnlySpan<byte> text) => text.TrimStart(" \t\r\n"u8);
}
