using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Answers;

/// <summary>The answers to saved questions in the appendix of a report.</summary>
internal static class SavedQuestions
{
    public const string Id = "questions";

    /// <summary>What the page needs beside the report's own styles; empty without a question.</summary>
    public static string Style(Figures model) => model.Answers.IsEmpty ? ""
        : "pre { margin: 0; white-space: pre-wrap; overflow-wrap: anywhere; }\n";

    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        if (model.Answers.IsEmpty)
            return;
        html.Add($"""<section aria-labelledby="{Id}"><h2 id="{Id}">Saved questions</h2><p>Questions that were asked by looking and kept: """
            + $"their differences are hypotheses, and no verdict rests on them.</p></section>");
        foreach (var (at, answer) in model.Answers.Index())
        {
            var view = View(model, answer);
            // Without any chart (`--charts none`) these have none either.
            AnswerSection.Write(html, view, charts.IsEmpty ? [] : AnswerCharts.Draw(view, Name(at)), Name(at));
        }
    }

    private static string Name(int at) => $"question-{at + 1}";

    private static AnswerView View(Figures model, QuestionAnswer answer) => new(answer, AnswerFrame.Of(model))
    {
        Command = answer.Asked.Definition.File.Length == 0 ? "" : $"outcomes explore PIPELINE --ask {answer.Asked.Definition.File}",
    };
}
