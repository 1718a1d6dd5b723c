using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Reporting.Answers;

/// <summary>What the form of a question shows: the choices there are, and what was chosen.</summary>
public sealed record ExploreForm
{
    /// <summary>The measures to ask.</summary>
    public required ImmutableArray<Measure> Measures { get; init; }

    /// <summary>The fields that conditions and splits may use, by title.</summary>
    public required ImmutableArray<(FieldUse Use, string Title)> Fields { get; init; }

    public required Titles Titles { get; init; }

    /// <summary>The first and last month with records.</summary>
    public required (Month First, Month Last) Months { get; init; }

    /// <summary>What was typed, by key.</summary>
    public ILookup<string, string> Typed { get; init; } = Array.Empty<string>().ToLookup(text => text);

    /// <summary>The parts of the condition as typed; empty where it could not be read.</summary>
    public ImmutableArray<ConditionPart> Parts { get; init; } = [];

    /// <summary>What was typed last under a key.</summary>
    internal string this[string key] => Typed[key].LastOrDefault() ?? "";
}

/// <summary>A page of <c>outcomes explore</c>.</summary>
/// <param name="Frame">The pipeline.</param>
public sealed record ExploreContent(AnswerFrame Frame)
{
    public ExploreForm? Form { get; init; }

    /// <summary>The answer; null before the first question, and where it could not be answered.</summary>
    public AnswerView? Answer { get; init; }

    /// <summary>Why there is no answer, in one sentence; empty where there is one.</summary>
    public string Problem { get; init; } = "";

    /// <summary>What was done; empty for nothing.</summary>
    public string Done { get; init; } = "";

    /// <summary>How many questions were asked today.</summary>
    public int Looks { get; init; }

    /// <summary>What a form that saves must bring back.</summary>
    public string Token { get; init; } = "";
}
