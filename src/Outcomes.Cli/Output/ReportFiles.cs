using Outcomes.Analysis;
using Outcomes.Reporting.Cases;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Output;

/// <summary>The report and its charts as files.</summary>
public static class ReportFiles
{
    public static void Write(OutputFolder output, Figures figures, Slides? slides)
    {
        var charts = slides is { } asked ? Charts.Draw(figures, asked) : [];
        foreach (var chart in charts.Where(chart => chart.Slide.Length > 0))
            Charts.Save(chart, output.PathOf($"charts/{chart.Name}.svg"), output.PathOf($"charts/{chart.Name}.png"));
        File.WriteAllBytes(output.PathOf(Report.File), Report.Utf8(figures, charts));
        File.WriteAllBytes(output.PathOf(Appendix.File), Appendix.Utf8(figures, charts));
    }

    /// <summary>The cases of the review meeting, and which record each is.</summary>
    public static void WriteCases(OutputFolder output, CaseSelection cases)
    {
        File.WriteAllBytes(output.PathOf("cases.html"), CasesPage.Utf8(cases.Pack));
        CaseKeyTable.Write(output.PathOf, cases.Keys);
    }
}
