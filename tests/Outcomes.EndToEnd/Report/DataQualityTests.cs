using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>A column that stops being filled in, on the terminal and in the report. Counts worked by hand from the invented rows.</summary>
public sealed class DataQualityTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public DataQualityTests()
    {
        // Ten records a month for four months; from March on the place is blank, and one place in April is no place.
        var rows = new StringBuilder("id,day,place,attempts,first\n");
        for (var month = 1; month <= 4; month++)
            for (var day = 1; day <= 10; day++)
                rows.Append(CultureInfo.InvariantCulture,
                    $"r{month}-{day},2025-{month:00}-{day:00},{(month < 3 ? "icu" : month == 4 && day == 1 ? "moon" : "")},1,yes\n");
        _workspace.Write("rows.csv", rows.ToString());
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("as_of: 2026-02-01", "as_of: 2025-05-01", StringComparison.Ordinal)
            .Replace("from: 2026-01", "from: 2025-01", StringComparison.Ordinal));
    }

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Check_says_what_is_missing_whose_column_since_when_and_what_to_ask_for()
    {
        var result = await ToolProcess.Run(_workspace.Folder, "check", "pipeline.yaml");
        Assert.True(result.Exit == 0, result.ToString());
        var lines = result.Output.ReplaceLineEndings("\n").Replace('\u00a0', ' ').Split('\n');
        var at = Array.FindIndex(lines, line => line.Contains("20/40  ", StringComparison.Ordinal));
        Assert.True(at >= 0, result.Output);
        Assert.EndsWith("column place, since March 2025", lines[at], StringComparison.Ordinal);
        Assert.Contains("Ask what changed in the form or the export in March 2025.", lines[at + 1], StringComparison.Ordinal);
        Assert.Contains(lines, line => line.Contains("made missing: not_allowed, column place", StringComparison.Ordinal));
        Assert.InRange(lines.Length, 10, 40);
    }

    [Fact]
    public async Task The_report_says_the_same_and_no_cell_is_printed()
    {
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());
        var report = _workspace.Read("out", "appendix.html").Replace('\u00a0', ' ').Replace("&#xA0;", " ", StringComparison.Ordinal);
        Assert.Contains("Ask what changed in the form or the export in March 2025.", report, StringComparison.Ordinal);
        Assert.Contains("What to ask for", report, StringComparison.Ordinal);
        Assert.DoesNotContain("moon", report, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_month_that_is_too_good_is_a_finding_without_a_line()
    {
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping + "  spo2_min: {column: lowest}\n");
        var rows = string.Concat(Enumerable.Range(1, 20)
            .Select(day => string.Create(CultureInfo.InvariantCulture, $"r{day},2025-04-{day:00},icu,1,yes,{(day <= 13 ? 100 : 97)}\n")));
        _workspace.Write("rows.csv", "id,day,place,attempts,first,lowest\n" + rows);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());
        var finding = Assert.Single(CsvTable.Read(_workspace["out"], "tables", "findings.csv").Rows);
        Assert.Equal(("perfect_saturation", "warn", "rows.csv", "", "lowest"),
            (finding["rule"], finding["severity"], finding["file"], finding["line"], finding["column"]));
        Assert.StartsWith("2025-04: 13 of 20", finding["explanation"], StringComparison.Ordinal);
    }
}
