using System.Collections.Immutable;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Reporting.Answers;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>
/// What is looked up rather than read: every measure, stratum, section and definition, the data's quality in full, the methods. One
/// self-contained page like the report, which it is linked with both ways.
/// </summary>
public static class Appendix
{
    /// <summary>Its file, beside the report.</summary>
    public const string File = "appendix.html";

    /// <summary>The page. Without charts (<c>--charts none</c>) the data tables stand alone.</summary>
    public static string Html(Figures model, ImmutableArray<Chart> charts)
    {
        Report.Refuse(model);
        var title = $"Airway outcomes, {Wording.Name(model.Month)}: appendix";
        var shell = PageShell.OfReport($"{title} · {model.PipelineName}", Report.Foot(model.Audience, model.Invented));
        return (shell with { Style = shell.Style + SavedQuestions.Style(model) }).Write(html => Body(html, title, model, charts));
    }

    /// <summary>The page as it is written to a file.</summary>
    public static byte[] Utf8(Figures model, ImmutableArray<Chart> charts) => Encoding.UTF8.GetBytes(Html(model, charts));

    private static void Body(Html html, string title, Figures model, ImmutableArray<Chart> charts)
    {
        Masthead.Write(html, model, title, [(Report.File, "Report"), .. Contents(model)]);
        html.Add($"""<main id="main">""");
        CautionsSection.Short(html, model);
        PeriodSection.Write(html, model);
        VerdictsSection.Write(html, model);
        ReviewSection.Write(html, model);
        ActionsSection.Write(html, model);
        LearningSection.Write(html, model);
        SummarySection.Write(html, model);
        ChangesSection.Write(html, model);
        MeasuresSection.Write(html, model, charts);
        ControlSection.Write(html, model, charts);
        RareSection.Write(html, model, charts);
        LadderSection.Write(html, model, charts);
        AnsweredSection.WriteAll(html, model, charts);
        SavedQuestions.Write(html, model, charts);
        QualitySection.Write(html, model);
        StrataSection.Write(html, model, charts);
        SitesSection.Write(html, model, charts);
        CaseMixSection.Write(html, model);
        DefinitionsSection.Write(html, model);
        MethodsSection.Write(html, model);
        CautionsSection.Full(html, model);
        html.Add($"</main>\n");
        Masthead.Foot(html, model);
    }

    private static IEnumerable<(string Link, string Title)> Contents(Figures model) =>
        ((string Id, string Title, bool Shown)[])
        [
            ("period", "Period", true), ("verdicts", "Verdicts", model.Measures.Any(measure => measure.Signal is not null)),
            (ReviewSection.Id, "For review", !model.Review.IsEmpty), (ActionsSection.Id, "Actions", !model.Actions.IsEmpty),
            (LearningSection.Id, "Learning", model.Learning is not null),
            ("summary", "Summary", true), ("changes", "Declared changes", !model.Changes.IsEmpty),
            ("measures", "Measure by measure", true), (ControlSection.Id, "Control charts", model.ControlCharts is not null),
            ("rare", "Rare events", !model.RareEvents.IsEmpty), ("ladder", "Plan ladder", true),
            .. AnsweredSection.Shown(model).Select(section => (section.Id, section.Definition.Title, true)),
            (SavedQuestions.Id, "Saved questions", !model.Answers.IsEmpty),
            ("quality", "Data quality", true), ("strata", "Strata", true), ("sites", "Between sites", !model.Sites.IsEmpty),
            (CaseMixSection.Id, "Case mix", !model.CaseMix.IsEmpty), ("definitions", "Definitions", true),
            ("methods", "Methods", true), ("cautions", "Cautions", true),
        ] switch
        {
            var parts => parts.Where(part => part.Shown).Select(part => ($"#{part.Id}", part.Title)),
        };
}
