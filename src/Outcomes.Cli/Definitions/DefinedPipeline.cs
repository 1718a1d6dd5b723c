using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>A pipeline with its definitions, which are checked on a thread of their own while its sources are read.</summary>
public sealed class DefinedPipeline : IDisposable
{
    private readonly Task<(DefinitionSet Definitions, Engine Engine)> _checked;

    private DefinedPipeline(PipelineDefinition pipeline, DateOnly asOf)
    {
        (Pipeline, AsOf) = (pipeline, asOf);
        Dictionary = DefinitionFiles.Dictionary(pipeline);
        _checked = Task.Run(() =>
        {
            var definitions = DefinitionFiles.Load(pipeline, Dictionary);
            return (definitions, Check(pipeline, definitions, asOf));
        });
    }

    public PipelineDefinition Pipeline { get; }

    /// <summary>The fields: all that reading needs.</summary>
    public FieldDictionary Dictionary { get; }

    public DefinitionSet Definitions => Checked().Definitions;

    public DateOnly AsOf { get; }

    /// <summary>An engine with the definitions and no source yet.</summary>
    public Engine Engine => Checked().Engine;

    /// <summary>Reads and checks the definitions of a pipeline.</summary>
    /// <exception cref="Failure">A definition is wrong, missing, or names what is not there (exit 3, file and line).</exception>
    public static DefinedPipeline Open(PipelineDefinition pipeline, DateOnly asOf)
    {
        var defined = Begin(pipeline, asOf);
        defined.Wait();
        return defined;
    }

    /// <summary>The same, but waits for nothing: what is wrong is said when the definitions are first asked for.</summary>
    /// <exception cref="Failure">The pipeline's own fields are wrong (exit 3, file and line).</exception>
    public static DefinedPipeline Begin(PipelineDefinition pipeline, DateOnly asOf) => new(pipeline, asOf);

    /// <summary>Waits until the definitions are checked.</summary>
    /// <exception cref="Failure">A definition is wrong, missing, or names what is not there (exit 3, file and line).</exception>
    public void Wait() => Checked();

    /// <summary>What is asked of the counts for a report month.</summary>
    public AnalysisPlan Plan(Month month) => Pipeline.Plan(Definitions, month, AsOf);

    public void Dispose()
    {
        // What a failed check would have opened, it has closed.
        Task.WhenAny(_checked).GetAwaiter().GetResult();
        if (_checked.IsCompletedSuccessfully) Engine.Dispose();
    }

    private (DefinitionSet Definitions, Engine Engine) Checked() => _checked.GetAwaiter().GetResult();

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
            foreach (var question in definitions.Questions) Check(question, definitions, engine);
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

    private static void Check(QuestionDefinition question, DefinitionSet definitions, Engine engine)
    {
        try
        {
            _ = SettleQuestion.Check(question, definitions, engine);
        }
        catch (Failure failure) when (failure.Code == ExitCode.Usage)
        {
            throw Failure.Definition(question.File, 1, failure.Reason);
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
