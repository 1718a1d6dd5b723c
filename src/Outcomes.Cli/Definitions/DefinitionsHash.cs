using System.Collections.Immutable;
using System.Security.Cryptography;
using Outcomes.Ingestion.Mapping;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Cli.Definitions;

/// <summary>
/// SHA-256 over all that can change a figure or a sentence of a report beside the records: two runs of one version with one hash asked the
/// same questions. The files that were read are not in it; <c>run.json</c> names each with a hash of its own.
/// </summary>
public static class DefinitionsHash
{
    private const string Place = "where it stands, for messages";
    private const string Tried = "tried when the definition is checked; shown and counted nowhere";
    private const string Loaded = "a path; what it leads to is in the hash";
    private const string Input = "names an input; run.json holds its name and its hash";

    /// <summary>What is not hashed, and why. All else of a definition is.</summary>
    public static readonly ImmutableArray<NotHashed> LeftOut =
    [
        new(typeof(DerivedColumn), Place, "File", "Line"),
        new(typeof(SectionDefinition), Place, "File", "Line", "DrawingLine"),
        new(typeof(AgreementPair), Place, "Line"),
        new(typeof(Measure), Place, "File", "Line", "EligibleLine", "MetLine"),
        new(typeof(Measure), Tried, "Examples"),
        new(typeof(ConsistencyRule), Place, "File", "Line"),
        new(typeof(ConsistencyRule), Tried, "Examples"),
        new(typeof(Flag), Place, "File", "Line"),
        new(typeof(Flag), Tried, "Examples"),
        new(typeof(SourceMapping), Place, "File"),
        new(typeof(SourceMapping), "the text of what is hashed", "Text"),
        new(typeof(TableLayout), Place, "Line"),
        new(typeof(ColumnMapping), Place, "Line"),
        new(typeof(ConstantMapping), Place, "Line"),
        new(typeof(WideAttempts), Place, "Line"),
        new(typeof(StatusMapping), Place, "Line"),
        new(typeof(CheckedColumn), Place, "Line"),
        new(typeof(CheckedColumn), "for readers of the mapping; shown nowhere", "Reason"),
        new(typeof(QuestionDefinition), Place, "File"),
        new(typeof(PipelineWord), Place, "Line"),
        new(typeof(ChangeEntry), Place, "File"),
        new(typeof(ActionEntry), Place, "File", "Line", "MeasureLine", "FromMinutes"),
        new(typeof(CountsSource), Input, "Path", "File"),
        new(typeof(PipelineDefinition), Place, "Path", "File", "Folder", "AssumeLine"),
        new(typeof(PipelineDefinition), Loaded, "LocalFields", "Measures", "Consistency", "Flags", "Derived", "Sections", "Questions",
            "ActionsFile", "Minutes"),
        new(typeof(PipelineDefinition), Input + "; the mappings are a part of their own", "Sources"),
        new(typeof(PipelineDefinition), "stands beside the hash wherever that is printed", "Name", "AsOf"),
        new(typeof(PipelineDefinition), "what the form asks for; a report does not read it", "Form"),
        new(typeof(PipelineDefinition), "whether records are written out; no figure or sentence rests on it", "ExportRecords"),
        new(typeof(PipelineDefinition), "where the record store lies", "Store"),
    ];

    /// <summary>The hash of a pipeline's definitions.</summary>
    public static string Of(PipelineDefinition pipeline, DefinitionSet definitions)
    {
        ArgumentNullException.ThrowIfNull(pipeline);
        ArgumentNullException.ThrowIfNull(definitions);
        return Of([
            new("dictionary", definitions.Dictionary.Fields),
            new("derived", definitions.Derived),
            new("measures", definitions.Measures),
            new("consistency", definitions.Rules),
            new("shipped_rules", pipeline.ShippedRules),
            new("flags", definitions.Flags),
            new("sections", definitions.Sections),
            // All files of one pattern share one mapping: another export of the same kind is no other definition.
            new("mappings", pipeline.Sources.Select(source => source.Mapping).Distinct<object>(ReferenceEqualityComparer.Instance)),
            new("repeated_keys", pipeline.Sources.Where(source => source.RepeatedKeysExpected).Select(source => source.Name).Distinct()),
            new("settings", pipeline),
            .. definitions.Questions.IsEmpty ? (DefinitionPart[])[] : [new("questions", definitions.Questions)]]);
    }

    /// <summary>The hash of named parts. A further kind of definition is a further part.</summary>
    public static string Of(params IEnumerable<DefinitionPart> parts) => Convert.ToHexStringLower(SHA256.HashData(Canonical(parts).Span));

    /// <summary>What is hashed, as it is hashed.</summary>
    public static ReadOnlyMemory<byte> Canonical(params IEnumerable<DefinitionPart> parts)
    {
        var leftOut = new Dictionary<Type, HashSet<string>>();
        foreach (var each in LeftOut)
        {
            if (!leftOut.TryGetValue(each.Of, out var names))
                leftOut.Add(each.Of, names = new HashSet<string>(StringComparer.Ordinal));
            names.UnionWith(each.Properties);
        }

        return new CanonicalJson(leftOut).Write(parts);
    }
}

/// <summary>A definition, or a list of them, under its name in the hash.</summary>
public sealed record DefinitionPart(string Name, object? Definition);

/// <summary>Properties of a definition that are not hashed.</summary>
/// <param name="Of">The kind of definition.</param>
/// <param name="Why">Why they change no figure and no sentence, or are told elsewhere.</param>
/// <param name="Properties">Their names.</param>
public sealed record NotHashed(Type Of, string Why, params ImmutableArray<string> Properties);
