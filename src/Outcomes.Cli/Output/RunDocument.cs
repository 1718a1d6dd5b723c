using System.Collections.Immutable;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Outcomes.Cli.Places;

namespace Outcomes.Cli.Output;

/// <summary><c>run.json</c> of a set for the department; its parts are serialised in the order in which they stand here.</summary>
internal sealed record RunDocument(
    string Kind, int Version, string Tool, string Pipeline, string PipelineId, DateOnly AsOf, string? Month, string Audience,
    string DefinitionsSha256, bool Complete, ImmutableArray<InputDocument> Inputs)
{
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public FileDocument? Capture { get; init; }

    /// <summary>Where the cases stand, and how many of each kind.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public JsonObject? Cases { get; init; }

    public required ImmutableArray<ReconciliationDocument> Reconciliation { get; init; }

    /// <summary>Who is counted in the last 12 months; without figures, or where that was not asked, none.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public FlowDocument? Flow { get; init; }

    /// <summary>Every other file of the set.</summary>
    public required ImmutableArray<ListedFile> Files { get; init; }

    /// <summary>Milliseconds by stage: all that differs between equal runs.</summary>
    public required JsonObject TimingsMs { get; init; }
}

internal sealed record FileDocument(string File, string Sha256);

/// <summary>One file that went in.</summary>
internal sealed record InputDocument(string Name, string File, string Sha256, int Rows, int BlankRows)
{
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public int? OutsideRows { get; init; }

    public required ImmutableArray<int> ColumnsChecked { get; init; }

    /// <summary>For each of <see cref="ColumnsChecked"/> the rules that are lifted; <c>all</c> where the mapping names none.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<IReadOnlyList<string>>? RulesLifted { get; init; }
}

/// <summary>The fates of a file's rows, which add up.</summary>
internal sealed record ReconciliationDocument(
    string File, long RowsIn, long Accepted, long Superseded, long Withdrawn, long Quarantined);

/// <summary>The records of a period, which are the sum of those that are left out, by reason, and those analysed.</summary>
internal sealed record FlowDocument(
    string Period, long Recorded, long NotEmergency, [property: JsonPropertyName("under_16")] long UnderSixteen, long NoAttempt,
    long NotKnown, long Analysed);

/// <summary><c>run.json</c> of a set for others.</summary>
internal sealed record SharedDocument(
    string Kind, int Version, string Tool, string Pipeline, string PipelineId, DateOnly AsOf, string Month, string Audience, int Threshold,
    int RoundedTo, int EarlierReportsCompared, string DefinitionsSha256, ImmutableSortedDictionary<string, string> Measures,
    bool Complete, ImmutableArray<ListedFile> Files);

/// <summary><c>run.json</c> of a run that refused a whole file.</summary>
internal sealed record RefusedDocument(
    string Kind, int Version, string Tool, string Pipeline, string PipelineId, string Audience, bool Complete, string? Refused, string Rule,
    ImmutableArray<ListedFile> Files);

/// <summary>The serialiser of manifests, compiled with the tool.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, GenerationMode = JsonSourceGenerationMode.Serialization)]
[JsonSerializable(typeof(RunDocument))]
[JsonSerializable(typeof(SharedDocument))]
[JsonSerializable(typeof(RefusedDocument))]
internal sealed partial class ManifestJson : JsonSerializerContext;
