using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>Loads the definitions that a pipeline works by.</summary>
public static class DefinitionFiles
{
    /// <exception cref="Failure">A definition is wrong, missing, or defined twice (exit 3).</exception>
    public static DefinitionSet Load(Pipeline pipeline)
    {
        var dictionary = pipeline.LocalFields is { } local
            ? FieldDictionary.Shipped.With(DictionaryFile.ReadLocal(Path.Combine(pipeline.Folder, local), local))
            : FieldDictionary.Shipped;
        // A wrong name is told by every command that reads the pipeline, not only when a form is written.
        _ = pipeline.Form?.Plan(dictionary);
        var measures = MeasureCatalogue.Load(pipeline.Measures.Any(path => path.IsShipped), Files(pipeline, pipeline.Measures));
        var rules = RuleFile.Load(pipeline.Consistency.Any(path => path.IsShipped), Files(pipeline, pipeline.Consistency));
        var flags = FlagFile.Load(pipeline.Flags.Any(path => path.IsShipped), Files(pipeline, pipeline.Flags));
        var headline = pipeline.Headline.Select(word => measures.FirstOrDefault(measure => measure.Id == word.Word)
            ?? throw Failure.Definition(pipeline.File, word.Line, $"headline: there is no measure `{word.Word}`{Nearest.Suggest(word.Word, measures.Select(measure => measure.Id))}")).ToArray();
        foreach (var (file, word) in pipeline.Changes.SelectMany(entry => entry.Measures.Select(word => (entry.File, word))))
            if (measures.FirstOrDefault(measure => measure.Id == word.Word) is not { Kind: MeasureKind.Proportion })
                throw Failure.Definition(file, word.Line, $"there is no proportion `{word.Word}` among the measures{Nearest.Suggest(word.Word, measures.Select(measure => measure.Id))}");
        foreach (var entry in pipeline.Actions.Where(entry => entry.Action.Measure is not null && measures.All(measure => measure.Id != entry.Action.Measure)))
            throw Failure.Definition(entry.File, entry.MeasureLine, $"there is no measure `{entry.Action.Measure}`{Nearest.Suggest(entry.Action.Measure!, measures.Select(measure => measure.Id))}");
        // A shipped flag may name a shipped measure that this pipeline leaves out.
        foreach (var flag in flags)
            if (flag.Standards.FirstOrDefault(id => measures.Concat(MeasureCatalogue.Shipped).All(measure => measure.Id != id)) is { } unknown)
                throw Failure.Definition(flag.File, flag.Line, $"flag {flag.Id}, standards: there is no measure `{unknown}`{Nearest.Suggest(unknown, measures.Select(measure => measure.Id))}");
        return new DefinitionSet(dictionary, [.. headline, .. measures.Except(headline)], rules, flags, HashOf(pipeline, dictionary, measures, rules, flags));
    }

    private static IEnumerable<(string Path, string Shown)> Files(Pipeline pipeline, ImmutableArray<DefinitionPath> paths)
    {
        foreach (var path in paths.Where(path => !path.IsShipped))
            if (Directory.Exists(path.Path))
                foreach (var file in Directory.EnumerateFiles(path.Path, "*.yaml").Order(StringComparer.Ordinal))
                    yield return (file, $"{path.Shown}/{Path.GetFileName(file)}");
            else if (File.Exists(path.Path))
                yield return (path.Path, path.Shown);
            else
                throw Failure.Definition(pipeline.File, path.Line, $"there is no file or folder `{path.Shown}`; check the path");
    }

    private static string HashOf(Pipeline pipeline, FieldDictionary dictionary, IEnumerable<Measure> measures, IEnumerable<ConsistencyRule> rules, IEnumerable<Flag> flags)
    {
        var text = new StringBuilder();
        foreach (var field in dictionary.Fields)
            text.Append(field.Table).Append('|').Append(field.Name).Append('|').Append(field.Type).Append('|').AppendJoin(',', field.Allowed).Append('|')
                .Append(field.Unit).Append('|').Append(field.Hard).Append('|').Append(field.Plausible).Append('\n');
        foreach (var column in DerivedFile.Shipped)
            text.Append(column.Id).Append('|').Append(column.Sql).Append('\n');
        foreach (var measure in measures)
            text.Append(measure.Id).Append('|').Append(measure.Eligible).Append('|').Append(measure.Met).Append('|').Append(measure.Value).Append('|')
                .Append(measure.Settled).Append('|').Append(measure.Missing).Append('\n');
        foreach (var rule in rules)
            text.Append(rule.Id).Append('|').Append(rule.Expect).Append('|').Append(rule.Severity).Append('|').AppendJoin(',', rule.Blanks).Append('\n');
        foreach (var flag in flags)
            text.Append(flag.Id).Append('|').Append(flag.Tier).Append('|').Append(flag.When).Append('\n');
        foreach (var (field, value) in pipeline.Assume.OrderBy(pair => pair.Key, StringComparer.Ordinal))
            text.Append(field).Append('=').Append(value).Append('\n');
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }
}
