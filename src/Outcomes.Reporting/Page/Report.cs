using System.Collections.Immutable;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>The monthly report: one self-contained HTML page, no scripts, no request to anywhere, readable on paper.</summary>
public static class Report
{
    /// <summary>The page. Without charts (<c>--charts none</c>) the data tables stand alone.</summary>
    public static string Html(Figures model, ImmutableArray<Chart> charts)
    {
        ArgumentNullException.ThrowIfNull(model);
        // Small numbers are shown as they are; what others may see is made from a release and nothing else.
        if (model.Audience != Audience.Department)
            throw new Failure(ExitCode.Definition, "This page shows small numbers and is for the department alone, "
                + $"not for {Wording.Audience(model.Audience)}; set audience: department.");

        var title = $"Airway outcomes, {Wording.Name(model.Month)}";
        return PageShell.OfReport($"{title} · {model.PipelineName}", Foot(model.Audience, model.Invented))
            .Write(html => Body(html, title, model, charts));
    }

    /// <summary>The page as it is written to a file.</summary>
    public static byte[] Utf8(Figures model, ImmutableArray<Chart> charts) => Encoding.UTF8.GetBytes(Html(model, charts));

    /// <summary>Every printed page says for whom it is.</summary>
    internal static string Foot(Audience audience, bool invented) => Wording.Audience(audience) + (invented ? " · invented data" : "");

    private static void Body(Html html, string title, Figures model, ImmutableArray<Chart> charts)
    {
        Masthead.Write(html, model, title);
        html.Add($"""<main id="main">""");
        CautionsSection.Short(html, model);
        FirstPage.Write(html, model, charts.IsEmpty ? ImmutableDictionary<string, Chart>.Empty : Charts.Small(model));
        PeriodSection.Write(html, model);
        VerdictsSection.Write(html, model);
        ReviewSection.Write(html, model);
        ActionsSection.Write(html, model);
        SummarySection.Write(html, model);
        ChangesSection.Write(html, model);
        MeasuresSection.Write(html, model, charts);
        ControlSection.Write(html, model, charts);
        RareSection.Write(html, model, charts);
        LadderSection.Write(html, model, charts);
        AnsweredSection.WriteAll(html, model, charts, SectionPlace.Report);
        QualitySection.Write(html, model);
        StrataSection.Write(html, model, charts);
        SitesSection.Write(html, model, charts);
        CaseMixSection.Write(html, model);
        AnsweredSection.WriteAll(html, model, charts, SectionPlace.Appendix);
        DefinitionsSection.Write(html, model);
        MethodsSection.Write(html, model);
        CautionsSection.Full(html, model);
        html.Add($"</main>\n");
        Masthead.Foot(html, model);
    }
}
