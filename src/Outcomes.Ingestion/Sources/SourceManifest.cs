using System.Collections.Immutable;
using System.Text.Json;
using Outcomes.Ingestion.Identifiers;

namespace Outcomes.Ingestion;

/// <summary>
/// What the store knows of one read source, kept as <c>source.json</c> in its folder; written last, so a folder with it is whole.
/// </summary>
public sealed record SourceManifest
{
    public const string FileName = "source.json";

    public required long Length { get; init; }

    /// <summary>SHA-256 of the file's bytes, lower-case hexadecimal.</summary>
    public required string Sha256 { get; init; }

    public required int Rows { get; init; }

    public required int BlankRows { get; init; }

    /// <summary>Lines above a declared heading, or rows of a mended file whose origin is another source's.</summary>
    public int OutsideRows { get; init; }

    /// <summary>
    /// True when the folder holds the source as UTF-8 text, because its file is not: places of rows are places in that text.
    /// </summary>
    public bool Converted { get; init; }

    /// <summary>Hash of the mapping's text.</summary>
    public string Mapping { get; init; } = "";

    public required char Separator { get; init; }

    public required bool RowsAreAttempts { get; init; }

    /// <summary>True when the rows are samples of traces.</summary>
    public bool RowsAreSamples { get; init; }

    /// <summary>The headings as messages and tables may print them.</summary>
    public required ImmutableArray<string> Headings { get; init; }

    public required ImmutableArray<string> Fields { get; init; }

    public required ImmutableArray<string> AttemptFields { get; init; }

    /// <summary>What is looked for in each column, and last in cells beyond the heading.</summary>
    public required ImmutableArray<Identifier> Asked { get; init; }

    /// <summary>Columns (0-based) that the mapping declares checked.</summary>
    public required ImmutableArray<int> Checked { get; init; }

    /// <summary>The rules lifted for each of <see cref="Checked"/>, separated by blanks; empty where every search is.</summary>
    public ImmutableArray<string> CheckedRules { get; init; } = [];

    /// <summary>Names of the Parquet files in the folder.</summary>
    public required ImmutableArray<string> Files { get; init; }

    public void Write(string folder)
    {
        using var file = File.Create(Path.Combine(folder, FileName));
        using var json = new Utf8JsonWriter(file, new JsonWriterOptions { Indented = true });
        json.WriteStartObject();
        json.WriteNumber("length", Length);
        json.WriteString("sha256", Sha256);
        json.WriteNumber("rows", Rows);
        json.WriteNumber("blank_rows", BlankRows);
        json.WriteNumber("outside_rows", OutsideRows);
        json.WriteBoolean("converted", Converted);
        json.WriteString("mapping", Mapping);
        json.WriteString("separator", Separator.ToString());
        json.WriteBoolean("rows_are_attempts", RowsAreAttempts);
        if (RowsAreSamples) json.WriteBoolean("rows_are_samples", true);
        Array(json, "headings", Headings);
        Array(json, "fields", Fields);
        Array(json, "attempt_fields", AttemptFields);
        Array(json, "files", Files);
        Numbers(json, "asked", Asked.Select(asked => (int)asked));
        Numbers(json, "checked", Checked);
        Array(json, "checked_rules", CheckedRules);
        json.WriteEndObject();
    }

    /// <summary>
    /// The manifest of a folder, or null when it has none or it cannot be read (a run was interrupted: read the source anew).
    /// </summary>
    public static SourceManifest? TryRead(string folder)
    {
        try
        {
            using var json = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(folder, FileName)));
            var root = json.RootElement;
            return new SourceManifest
            {
                Length = root.GetProperty("length").GetInt64(),
                Sha256 = root.GetProperty("sha256").GetString()!,
                Rows = root.GetProperty("rows").GetInt32(),
                BlankRows = root.GetProperty("blank_rows").GetInt32(),
                OutsideRows = root.GetProperty("outside_rows").GetInt32(),
                Converted = root.GetProperty("converted").GetBoolean(),
                Mapping = root.GetProperty("mapping").GetString()!,
                Separator = root.GetProperty("separator").GetString()![0],
                RowsAreAttempts = root.GetProperty("rows_are_attempts").GetBoolean(),
                RowsAreSamples = root.TryGetProperty("rows_are_samples", out var samples) && samples.GetBoolean(),
                Headings = Array(root, "headings"),
                Fields = Array(root, "fields"),
                AttemptFields = Array(root, "attempt_fields"),
                Files = Array(root, "files"),
                Asked = [.. Numbers(root, "asked").Select(asked => (Identifier)asked)],
                Checked = [.. Numbers(root, "checked")],
                CheckedRules = Array(root, "checked_rules"),
            };
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or KeyNotFoundException
            or InvalidOperationException or FormatException)
        {
            return null;
        }
    }

    private static void Array(Utf8JsonWriter json, string name, ImmutableArray<string> values)
    {
        json.WriteStartArray(name);
        foreach (var value in values) json.WriteStringValue(value);
        json.WriteEndArray();
    }

    private static void Numbers(Utf8JsonWriter json, string name, IEnumerable<int> values)
    {
        json.WriteStartArray(name);
        foreach (var value in values) json.WriteNumberValue(value);
        json.WriteEndArray();
    }

    private static IEnumerable<int> Numbers(JsonElement root, string name) =>
        root.GetProperty(name).EnumerateArray().Select(value => value.GetInt32());

    private static ImmutableArray<string> Array(JsonElement root, string name) =>
        [.. root.GetProperty(name).EnumerateArray().Select(value => value.GetString()!)];
}
