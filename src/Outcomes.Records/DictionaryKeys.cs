using System.Collections.Immutable;

namespace Outcomes.Records;

/// <summary>
/// The keys that a dictionary file may hold: its parser refuses every other by these lists, and docs/pipeline.md is held to them.
/// </summary>
public static class DictionaryKeys
{
    /// <summary>Keys of a file of a pipeline's own fields.</summary>
    public static readonly ImmutableArray<string> LocalFile = ["$schema", "title", "description", "fieldsMatch", "missingValues", "fields"];

    /// <summary>The tables that such a file may name, with a file's keys under each.</summary>
    public static readonly ImmutableArray<string> Tables = [FieldDictionary.Procedure, FieldDictionary.Attempt];

    /// <summary>Keys of a field of whatever type.</summary>
    public static readonly ImmutableArray<string> Field =
        ["name", "title", "type", "description", "example", "constraints", "missingValues", "outcomes:identifying", "outcomes:core"];

    public static readonly ImmutableArray<string> MissingWord = ["value", "label"];

    /// <summary>Keys of a value of a code or set.</summary>
    public static readonly ImmutableArray<string> Category = ["value", "label"];

    public static readonly ImmutableArray<string> Range = ["minimum", "maximum"];

    /// <summary>The further keys that a field of one type has.</summary>
    public static ImmutableArray<string> FieldOf(FieldType type) => type switch
    {
        FieldType.Code => ["categories"],
        FieldType.Set => ["delimiter", "itemType", "outcomes:allowed"],
        FieldType.YesNo => ["trueValues", "falseValues"],
        FieldType.Integer => ["outcomes:unit", "outcomes:plausible"],
        FieldType.Number => ["outcomes:unit", "outcomes:plausible", "outcomes:decimals"],
        FieldType.Time => ["format"],
        _ => [],
    };

    /// <summary>Keys of the constraints of a field of one type.</summary>
    public static ImmutableArray<string> ConstraintsOf(FieldType type) => type switch
    {
        FieldType.Code => ["required", "enum"],
        FieldType.Integer or FieldType.Number or FieldType.Date or FieldType.Time => ["required", .. Range],
        _ => ["required"],
    };
}
