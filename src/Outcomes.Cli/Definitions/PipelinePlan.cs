using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>What a pipeline file asks of its counts.</summary>
internal static class PipelinePlan
{
    /// <summary>The plan of the analysis, for one report month.</summary>
    public static AnalysisPlan Plan(this PipelineDefinition pipeline, DefinitionSet definitions, Month month, DateOnly asOf) => new()
    {
        Name = pipeline.Name,
        Definitions = definitions,
        Month = month,
        AsOf = asOf,
        Headline = [.. pipeline.Headline.Select(word => word.Word)],
        Strata = [.. pipeline.Strata.Select(word => word.Word)],
        Baseline = pipeline.Baseline,
        WholeBaseline = pipeline.WholeBaseline,
        Pace = pipeline.Pace,
        Changes = [.. pipeline.Changes.Select(entry => entry.Change)],
        Actions = [.. pipeline.Actions.Select(entry => entry.Action)],
        Learning = pipeline.Learning,
        Span = pipeline.Span,
        CaseMix = pipeline.CaseMix is { } asked
            ? new([.. asked.Measures.Select(word => word.Word)], [.. asked.Given.Select(word => word.Word)], asked.Shipped)
            {
                Challenger = asked.Challenger,
            }
            : null,
        Assume = pipeline.Assume,
        Audience = pipeline.Audience,
        Invented = pipeline.Invented,
    };
}
