using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Model;
using Outcomes.Reporting.Page;

namespace Outcomes.Cli.Run;

/// <summary>The report and its charts as files.</summary>
public static class ReportFiles
{
    public static void Write(OutputFolder output, ReportModel model, bool draw)
    {
        var charts = draw ? Charts.Draw(model) : [];
        if (draw) Charts.Save(charts, Path.GetDirectoryName(output.PathOf("charts/any"))!);
        File.WriteAllBytes(output.PathOf("report.html"), Report.Utf8(model, charts));
    }
}
