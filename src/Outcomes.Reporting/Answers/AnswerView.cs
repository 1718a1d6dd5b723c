using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Reporting.Answers;

/// <summary>An answer with all that stands around it.</summary>
/// <param name="Answer">The answer.</param>
/// <param name="Report">What the answer is drawn like: the names, the dates and the definitions of the report.</param>
public sealed record AnswerView(QuestionAnswer Answer, AnswerFrame Report)
{
    /// <summary>The report's figures of the measure, where the question is the report's own; else null.</summary>
    public MeasureFigures? Reported { get; init; }

    /// <summary>True where the report's verdict and case mix would stand beside the answer, and the report is not made.</summary>
    public bool LacksReport { get; init; }

    /// <summary>The command that prints the same figures; empty for none.</summary>
    public string Command { get; init; } = "";

    /// <summary>SQL for <c>outcomes query</c>; empty for none.</summary>
    public string Sql { get; init; } = "";

    /// <summary>What the charts show: the report's own chart where the question is the report's.</summary>
    internal MeasureFigures Figures => Reported ?? Answer.First.Figures;

    internal Titles Titles => Report.Titles;

    internal ImmutableArray<CohortFigures> Cohorts => Answer.Second is { } second ? [Answer.First, second] : [Answer.First];
}

/// <summary>What every answer of a pipeline shares.</summary>
public sealed record AnswerFrame
{
    public required string Pipeline { get; init; }

    public required Titles Titles { get; init; }

    public required Month First { get; init; }

    public required Month Month { get; init; }

    public required DateOnly AsOf { get; init; }

    public required bool Invented { get; init; }

    public required string DefinitionsHash { get; init; }

    public required string Version { get; init; }

    /// <summary>What the answers of a report share.</summary>
    public static AnswerFrame Of(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        return new()
        {
            Pipeline = model.PipelineName,
            Titles = model.Titles,
            First = model.First,
            Month = model.Month,
            AsOf = model.AsOf,
            Invented = model.Invented,
            DefinitionsHash = model.DefinitionsHash,
            Version = model.Version,
        };
    }
}
