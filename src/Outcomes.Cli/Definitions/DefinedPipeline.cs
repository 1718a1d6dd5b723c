using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>A pipeline with its definitions, all of them checked before any source is read.</summary>
public sealed class DefinedPipeline : IDisposable
{
    private DefinedPipeline(PipelineDefinition pipeline, DefinitionSet definitions, DateOnly asOf, Engine engine) =>
        (Pipeline, Definitions, AsOf, Engine) = (pipeline, definitions, asOf, engine);

    public PipelineDefinition Pipeline { get; }

    public DefinitionSet Definitions { get; }

    public DateOnly AsOf { get; }

    /// <summary>An engine with the definitions and no source yet.</summary>
    public Engine Engine { get; }

    /// <summary>Reads and checks the definitions of a pipeline.</summary>
    /// <exception cref="Failure">A definition is wrong, missing, or names what is not there (exit 3, file and line).</exception>
    public static DefinedPipeline Open(PipelineDefinition pipeline, DateOnly asOf)
    {
        var definitions = DefinitionFiles.Load(pipeline);
        return new(pipeline, definitions, asOf, Check(pipeline, definitions, asOf));
    }

    /// <summary>What is asked of the counts for a report month.</summary>
    public AnalysisPlan Plan(Month month) => Pipeline.Plan(Definitions, month, AsOf);

    public void Dispose() => Engine.Dispose();

    private static Engine Check(PipelineDefinition pipeline, DefinitionSet definitions, DateOnly asOf)
    {
        var engine = AtLine(pipeline, pipeline.AssumeLine, () => Engine.Open(definitions.Dictionary, [], new EngineOptions
        {
            AsOf = asOf,
            Assume = pipeline.Assume,
            Rules = definitions.Rules,
            Derived = definitions.Derived,
        }));
        try
        {
            engine.Check(definitions.Measures, []);
            engine.Check(definitions.Flags);
            // A shipped section leaves out what a pipeline does not have; a section of its own names what is there.
            foreach (var section in definitions.Sections.Except(SectionFile.Shipped)) engine.Check(section);
            foreach (var stratum in pipeline.Strata)
                AtLine(pipeline, stratum.Line, () => { engine.Check([], [stratum.Word]); return engine; });
            CheckCaseMix(pipeline, definitions);
            foreach (var field in pipeline.CaseMix?.Given ?? [])
                AtLine(pipeline, field.Line, () => { engine.CheckNames("case_mix", [field.Word]); return engine; });
            return engine;
        }
        catch
        {
            engine.Dispose();
            throw;
        }
    }

    /// <summary>Checks that the measures are there and are proportions.</summary>
    /// <exception cref="Failure">One is not (exit 3, file and line).</exception>
    private static void CheckCaseMix(PipelineDefinition pipeline, DefinitionSet definitions)
    {
        foreach (var word in pipeline.CaseMix?.Measures ?? [])
            if (definitions.Measures.FirstOrDefault(measure => measure.Id == word.Word) is not { } found)
                throw Failure.Definition(pipeline.File, word.Line, "case_mix: there is no measure "
                    + $"`{word.Word}`{Nearest.Suggest(word.Word, definitions.Measures.Select(measure => measure.Id))}");
            else if (found.Kind != MeasureKind.Proportion)
                throw Failure.Definition(pipeline.File, word.Line,
                    $"case_mix: `{word.Word}` is a quantity; name measures that are met or not met");
    }

    // The engine does not know the pipeline file: what it says of a word of that file gets the word's line here.
    private static Engine AtLine(PipelineDefinition pipeline, int line, Func<Engine> work)
    {
        try
        {
            return work();
        }
        catch (Failure failure) when (failure.File is null)
        {
            throw Failure.Definition(pipeline.File, line, failure.Message);
        }
    }
}
