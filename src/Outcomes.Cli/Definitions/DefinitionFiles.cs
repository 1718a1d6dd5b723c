using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>Loads the definitions that a pipeline works by.</summary>
public static class DefinitionFiles
{
    /// <summary>The dictionary with a pipeline's own fields.</summary>
    /// <exception cref="Failure">A field is wrong, or the file missing (exit 3).</exception>
    public static FieldDictionary Dictionary(PipelineDefinition pipeline)
    {
        ArgumentNullException.ThrowIfNull(pipeline);
        return pipeline.LocalFields is { } local
            ? FieldDictionary.Shipped.With(DictionaryFile.ReadLocal(Path.Combine(pipeline.Folder, local), local))
            : FieldDictionary.Shipped;
    }

    /// <summary>All definitions.</summary>
    /// <exception cref="Failure">A definition is wrong, missing, or defined twice (exit 3).</exception>
    public static DefinitionSet Load(PipelineDefinition pipeline) => Load(pipeline, Dictionary(pipeline));

    /// <summary>All definitions over a dictionary.</summary>
    /// <exception cref="Failure">A definition is wrong, missing, or defined twice (exit 3).</exception>
    public static DefinitionSet Load(PipelineDefinition pipeline, FieldDictionary dictionary)
    {
        // A wrong name is told by every command that reads the pipeline, not only when a form is written.
        _ = pipeline.Form?.Plan(dictionary);
        var measures = MeasureCatalogue.Load(pipeline.Measures.Any(path => path.IsShipped), Files(pipeline, pipeline.Measures));
        var rules = RuleFile.Load(pipeline.Consistency.Any(path => path.IsShipped), Files(pipeline, pipeline.Consistency));
        var flags = FlagFile.Load(pipeline.Flags.Any(path => path.IsShipped), Files(pipeline, pipeline.Flags));
        var derived = DerivedFile.Load(pipeline.Derived.Any(path => path.IsShipped), Files(pipeline, pipeline.Derived));
        var sections = SectionFile.Load(pipeline.Sections.Any(path => path.IsShipped), Files(pipeline, pipeline.Sections));
        var headline = pipeline.Headline.Select(word => measures.FirstOrDefault(measure => measure.Id == word.Word)
            ?? throw Failure.Definition(pipeline.File, word.Line, "headline: there is no measure "
                + $"`{word.Word}`{Nearest.Suggest(word.Word, measures.Select(measure => measure.Id))}")).ToArray();
        foreach (var (file, word) in pipeline.Changes.SelectMany(entry => entry.Measures.Select(word => (entry.File, word))))
            if (measures.FirstOrDefault(measure => measure.Id == word.Word) is not { Kind: MeasureKind.Proportion })
                throw Failure.Definition(file, word.Line, $"there is no proportion `{word.Word}` among the "
                    + $"measures{Nearest.Suggest(word.Word, measures.Select(measure => measure.Id))}");
        ChangesFile.RequireFew(pipeline.Changes, pipeline.Pace);
        foreach (var entry in pipeline.Actions.Where(entry => entry.Action.Measure is not null
            && measures.All(measure => measure.Id != entry.Action.Measure)))
            throw Failure.Definition(entry.File, entry.MeasureLine, "there is no measure "
                + $"`{entry.Action.Measure}`{Nearest.Suggest(entry.Action.Measure!, measures.Select(measure => measure.Id))}");
        // A shipped flag may name a shipped measure that this pipeline leaves out.
        foreach (var flag in flags)
            if (flag.Standards.FirstOrDefault(id => measures.Concat(MeasureCatalogue.Shipped)
                .All(measure => measure.Id != id)) is { } unknown)
                throw Failure.Definition(flag.File, flag.Line, $"flag {flag.Id}, standards: "
                    + $"there is no measure `{unknown}`{Nearest.Suggest(unknown, measures.Select(measure => measure.Id))}");
        // A shipped section may name a shipped measure that this pipeline leaves out.
        foreach (var section in sections.Except(SectionFile.Shipped))
            if (section.Measures.Concat(section.Compare?.Measures ?? []).FirstOrDefault(id => id != SectionDefinition.Headline
                && measures.All(measure => measure.Id != id)) is { } unknown)
                throw Failure.Definition(section.File, section.Line, $"section {section.Id}: there is no measure "
                    + $"`{unknown}`{Nearest.Suggest(unknown, measures.Select(measure => measure.Id))}");
        var definitions = new DefinitionSet(dictionary, [.. headline, .. measures.Except(headline)], rules, flags, "")
        {
            Derived = derived,
            Sections = sections,
            Questions = [.. Files(pipeline, pipeline.Questions).Select(file => QuestionText.Read(file.Path, file.Shown))],
        };
        return definitions with { Hash = DefinitionsHash.Of(pipeline, definitions with { Measures = measures }) };
    }

    private static IEnumerable<(string Path, string Shown)> Files(PipelineDefinition pipeline, ImmutableArray<DefinitionPath> paths)
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
}
