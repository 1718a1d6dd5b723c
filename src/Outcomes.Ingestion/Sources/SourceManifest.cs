using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using Outcomes.Ingestion.Identifiers;

namespace Outcomes.Ingestion;

/// <summary>
/// What the store knows of one read source, kept as <c>source.json</c> in its folder.
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
    [JsonRequired]
    public int OutsideRows { get; init; }

    /// <summary>
    /// True when the file is not UTF-8 text: places of rows are places in the text that is made of it.
    /// </summary>
    [JsonRequired]
    public bool Converted { get; init; }

    /// <summary>Hash of the mapping's text.</summary>
    [JsonRequired]
    public string Mapping { get; init; } = "";

    public required char Separator { get; init; }

    public required bool RowsAreAttempts { get; init; }

    /// <summary>True when the rows are samples of traces.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public bool RowsAreSamples { get; init; }

    /// <summary>The headings as messages and tables may print them.</summary>
    public required ImmutableArray<string> Headings { get; init; }

    public required ImmutableArray<string> Fields { get; init; }

    public required ImmutableArray<string> AttemptFields { get; init; }

    /// <summary>Names of the Parquet files in the folder.</summary>
    public required ImmutableArray<string> Files { get; init; }

    /// <summary>What is looked for in each column, and last in cells beyond the heading.</summary>
    public required ImmutableArray<Identifier> Asked { get; init; }

    /// <summary>
    /// Columns (0-based) that are not read and that as a whole may identify people: their cells do not travel on in a quarantined row.
    /// </summary>
    [JsonRequired]
    public ImmutableArray<int> Withheld { get; init; } = [];

    /// <summary>Columns (0-based) that the mapping declares checked.</summary>
    public required ImmutableArray<int> Checked { get; init; }

    /// <summary>The rules lifted for each of <see cref="Checked"/>, separated by blanks; empty where every search is.</summary>
    [JsonRequired]
    public ImmutableArray<string> CheckedRules { get; init; } = [];

    public void Write(string folder)
    {
        using var file = File.Create(Path.Combine(folder, FileName));
        using var writer = new Utf8JsonWriter(file, new JsonWriterOptions { Indented = true });
        JsonSerializer.Serialize(writer, this, SourceManifestWriting.Default.SourceManifest);
    }

    /// <summary>
    /// The manifest of a folder, or null when it has none or it cannot be read (a run was interrupted: read the source anew).
    /// </summary>
    public static SourceManifest? TryRead(string folder)
    {
        try
        {
            return JsonSerializer.Deserialize(File.ReadAllBytes(Path.Combine(folder, FileName)), SourceManifestJson.Default.SourceManifest);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            return null;
        }
    }
}

/// <summary>Writes a manifest without describing its properties first, which a short run would notice.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, GenerationMode = JsonSourceGenerationMode.Serialization)]
[JsonSerializable(typeof(SourceManifest))]
internal sealed partial class SourceManifestWriting : JsonSerializerContext;

/// <summary>Reads a manifest.</summary>
[JsonSourceGenerationOptions(
    WriteIndented = true, PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, RespectNullableAnnotations = true)]
[JsonSerializable(typeof(SourceManifest))]
internal sealed partial class SourceManifestJson : JsonSerializerContext;
