using System.Collections.Immutable;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;

namespace Outcomes.Cli.Output;

/// <summary>A descriptor in the Data Package standard, version 2; its parts are serialised in the order in which they stand here.</summary>
internal sealed record DataPackageDescriptor(
    [property: JsonPropertyName("$schema")] string Profile, string Name, string Description, ImmutableArray<ResourceDescriptor> Resources);

/// <summary>One file of the package.</summary>
internal sealed record ResourceDescriptor
{
    public required string Name { get; init; }

    public required string Path { get; init; }

    public required string Title { get; init; }

    public required string Description { get; init; }

    public required string Format { get; init; }

    public required string Mediatype { get; init; }

    public string? Encoding { get; init; }

    public required long Bytes { get; init; }

    public required string Hash { get; init; }

    public string Type { get; } = "table";

    public required SchemaDescriptor Schema { get; init; }
}

/// <summary>A Table Schema. Properties of our own are prefixed, as in the dictionary.</summary>
internal sealed record SchemaDescriptor
{
    public required string Description { get; init; }

    public required ImmutableArray<FieldDescriptor> Fields { get; init; }

    /// <summary>Texts that stand for no value; null where an empty cell does, which is the standard's default.</summary>
    public IReadOnlyList<string>? MissingValues { get; init; }

    [JsonPropertyName("outcomes:lostMissingValues")]
    public IReadOnlyList<MissingWordDescriptor>? LostMissingValues { get; init; }

    public IReadOnlyList<string>? PrimaryKey { get; init; }

    public IReadOnlyList<ForeignKeyDescriptor>? ForeignKeys { get; init; }
}

internal sealed record MissingWordDescriptor(string Value, string Label);

internal sealed record ForeignKeyDescriptor(IReadOnlyList<string> Fields, ReferenceDescriptor Reference);

internal sealed record ReferenceDescriptor(string Resource, IReadOnlyList<string> Fields);

/// <summary>One column.</summary>
internal sealed record FieldDescriptor
{
    public required string Name { get; init; }

    public string? Title { get; init; }

    public required string Type { get; init; }

    public required string Description { get; init; }

    public IReadOnlyList<string>? TrueValues { get; init; }

    public IReadOnlyList<string>? FalseValues { get; init; }

    public ConstraintsDescriptor? Constraints { get; init; }

    public IReadOnlyList<CategoryDescriptor>? Categories { get; init; }

    [JsonPropertyName("outcomes:unit")]
    public string? Unit { get; init; }

    [JsonPropertyName("outcomes:sql")]
    public string? Sql { get; init; }
}

/// <summary>A value and what people read in its place.</summary>
internal sealed record CategoryDescriptor(string Value, string Label);

/// <summary>What is always true of a column's cells.</summary>
internal sealed record ConstraintsDescriptor
{
    public bool? Required { get; init; }

    /// <summary>A number, or a text for a date.</summary>
    public JsonValue? Minimum { get; init; }

    public JsonValue? Maximum { get; init; }

    public string? Pattern { get; init; }

    public IReadOnlyList<string>? Enum { get; init; }
}

/// <summary>The serialiser of the descriptor, compiled with the tool.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    GenerationMode = JsonSourceGenerationMode.Serialization)]
[JsonSerializable(typeof(DataPackageDescriptor))]
internal sealed partial class DataPackageJson : JsonSerializerContext;
