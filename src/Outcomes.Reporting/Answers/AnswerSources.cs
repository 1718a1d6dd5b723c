using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Answers;

/// <summary>What an answer rests on: definition, method, condition, SQL, command, and how to cite it.</summary>
internal static class AnswerSources
{
    public static void Write(Html html, AnswerView view, string id)
    {
        var (answer, measure) = (view.Answer, view.Answer.Asked.Measure);
        html.Add($"""<details class="more" id="sources-{id}"><summary>Definition, method, condition, SQL and command</summary>"""
            + $"""<dl class="methods">""");
        Item(html, "Eligible", measure.Eligible);
        Item(html, measure.Kind == MeasureKind.Proportion ? "Met" : "Value",
            measure.Kind == MeasureKind.Proportion ? measure.Met : measure.Value);
        foreach (var cohort in view.Cohorts)
            Item(html, "Condition", cohort.Cohort.Text);
        Item(html, "SQL", view.Sql, "for outcomes query; not applicable counts as missing there");
        Item(html, "Command", view.Command);
        Words(html, "Method", AnswerWording.Method(answer));
        Words(html, "Definition’s source", measure.Source);
        Words(html, "Cite as", Citation(view));
        html.Add($"</dl></details>");
    }

    /// <summary>How a text cites the figure.</summary>
    public static string Citation(AnswerView view) =>
        $"{view.Answer.Asked.Measure.Title} ({view.Answer.Asked.Measure.Id}), pipeline {view.Report.Pipeline}, records as known on "
            + $"{Wording.Date(view.Report.AsOf)}; question “{QuestionText.Query(view.Answer.Asked.Settled)}”; definitions SHA-256 "
            + $"{view.Report.DefinitionsHash[..Math.Min(12, view.Report.DefinitionsHash.Length)]}; Outcomes {view.Report.Version}.";

    private static void Item(Html html, string title, string code, string note = "")
    {
        if (code.Length == 0)
            return;
        html.Add($"""<div><dt>{title}</dt><dd><pre tabindex="0"><code>{code}</code></pre>""");
        if (note.Length > 0)
            html.Add($"""<span class="sub">{note}</span>""");
        html.Add($"</dd></div>");
    }

    private static void Words(Html html, string title, string text)
    {
        if (text.Length > 0)
            html.Add($"<div><dt>{title}</dt><dd>{text}</dd></div>");
    }
}
