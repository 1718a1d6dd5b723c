using System.Collections.Immutable;
using Outcomes.Measures.Yaml;
using Outcomes.Records;
using Outcomes.Reporting.Form;

namespace Outcomes.Cli.Definitions;

/// <summary>Which fields a department's form asks for beside those that every form asks for: <c>form:</c> of a pipeline.</summary>
/// <param name="File">The pipeline, for messages.</param>
/// <param name="Fields">Fields of records; null keeps all.</param>
/// <param name="Attempts">Fields of attempts; null keeps all.</param>
public sealed record FormRequest(string File, ImmutableArray<PipelineWord>? Fields, ImmutableArray<PipelineWord>? Attempts)
{
    public static readonly YamlKeys Keys = new("pipeline form", "fields", "attempts");

    public static FormRequest Of(YamlNode node)
    {
        ArgumentNullException.ThrowIfNull(node);
        var map = node.Map(Keys);
        return new FormRequest(node.File, Words(map.Optional("fields")), Words(map.Optional("attempts")));
    }

    /// <summary>The form of a dictionary, cut down to the fields named.</summary>
    /// <exception cref="Failure">A name is no field, or one that no form asks for (exit 3).</exception>
    public FormPlan Plan(FieldDictionary dictionary)
    {
        ArgumentNullException.ThrowIfNull(dictionary);
        var whole = FormPlan.For(dictionary);
        return whole.Only(
            Named(Fields, FieldDictionary.Procedure, [.. whole.Stages.SelectMany(stage => stage.Fields)], whole),
            Named(Attempts, FieldDictionary.Attempt, whole.Attempts, whole));
    }

    private HashSet<string>? Named(ImmutableArray<PipelineWord>? words, string table, ImmutableArray<Field> asked, FormPlan whole)
    {
        foreach (var word in words ?? [])
            if (asked.All(field => field.Name != word.Word))
                throw Failure.Definition(File, word.Line, $"form: {Why(word.Word, table, asked, whole)}");
        return words?.Select(word => word.Word).ToHashSet(StringComparer.Ordinal);
    }

    private static string Why(string name, string table, ImmutableArray<Field> asked, FormPlan whole) =>
        whole.LeftOut.TryGetValue(name, out var why)
            ? $"`{name}` is never asked for: {why}; remove it"
            : $"the form has no field `{name}` of {(table == FieldDictionary.Attempt ? "an attempt" : "a procedure")}"
                + $"{Nearest.Suggest(name, asked.Select(field => field.Name))}";

    private static ImmutableArray<PipelineWord>? Words(YamlNode? node) =>
        node is null ? null : [.. node.Items().Select(item => new PipelineWord(item.Text(), item.Line))];
}
