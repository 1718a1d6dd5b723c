using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Six records of January against independent counts. Wilson's limits of 6 of 7, 6 and 8 as statsmodels 0.13 gives them
/// (proportion_confint, method wilson).
/// </summary>
public sealed class CaptureTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public CaptureTests() => _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "capture: {file: tubes.csv}\n");

    public void Dispose() => _workspace.Dispose();

    [Theory]
    [InlineData(7, 0.48687, 0.97432, "", "6/7")]
    [InlineData(6, 0.60967, 1.0, "", "6/6")]
    [InlineData(8, 0.40928, 0.92852, "capture_low", "Fewer than 80 % were recorded")]
    [InlineData(5, null, null, "capture_high", "More were recorded than counted")]
    public async Task A_share_has_an_interval_and_more_records_than_counted_have_none(
        int counted, double? lower, double? upper, string rule, string said)
    {
        _workspace.Write("tubes.csv", $"month,count,source\n2026-01,{counted},tubes issued\n");
        await Run();
        var rows = CsvTable.Read(_workspace["out"], "tables", "capture.csv").Rows.ToArray();
        Assert.All(rows, row =>
        {
            Assert.Equal(("2026-01", "all", "6", $"{counted}", "tubes issued"),
                (row["period"], row["site"], row["records"], row["counted"], row["source"]));
            Assert.Equal(6.0 / counted, Number(row["value"]), 1e-11);
            Assert.Equal((lower is null ? "" : "wilson", lower is null),
                (row["method"], row["lower"].Length == 0 && row["upper"].Length == 0));
            if (lower is not { } least || upper is not { } most)
                return;
            Assert.Equal(least, Number(row["lower"]), 5e-6);
            Assert.Equal(most, Number(row["upper"]), 5e-6);
        });
        Assert.Contains(said, _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
        Assert.Equal(rule.Length == 0 ? [] : [rule], CsvTable.Read(_workspace["out"], "tables", "findings.csv").Rows
            .Select(row => row["rule"]));
        Assert.Contains("tables/capture.csv", _workspace.Read("out", "datapackage.json"), StringComparison.Ordinal);
        Assert.Contains("\"capture\"", _workspace.Read("out", "run.json"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Only_months_with_a_good_count_are_compared_and_bad_rows_are_findings()
    {
        _workspace.Write("tubes.csv", "source;month;count\ntubes;2025-12;3\ntubes;01/2026;9\ntubes;2026-01;7.5\n;2026-01;9\n\n"
            + "tubes;2026-01;6\ntubes;2026-01;7\ntubes;2026-02;4\n");
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r0,2025-11-30,icu,1,yes\n");
        await Run();
        var rows = CsvTable.Read(_workspace["out"], "tables", "capture.csv").Rows
            .Select(row => $"{row["period"]} {row["records"]}/{row["counted"]} {row["months_counted"]}");
        Assert.Equal(["2025-11/2026-01 6/9 2", "2025-12 0/3 1", "2026-01 6/6 1"], rows);
        Assert.Equal(
            ["not_month 3", "not_count 4", "missing 5", "duplicate 8", "capture_low 2"],
            CsvTable.Read(_workspace["out"], "tables", "findings.csv").Rows.Select(row => $"{row["rule"]} {row["line"]}"));
        Assert.Contains("Only 2 of 3 months have a count", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sites_are_compared_each_with_its_own_count()
    {
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping + "  site_code: {column: site}\n");
        _workspace.Write("rows.csv", string.Join('\n', TinyPipeline.Rows.TrimEnd('\n').Split('\n')
            .Select((line, i) => line + (i == 0 ? ",site" : i < 3 ? ",A" : ",B"))) + "\n");
        _workspace.Write("tubes.csv", "month,count,source,site\n2026-01,2,tubes,A\n2026-01,5,tubes,B\n");
        await Run();
        var rows = CsvTable.Read(_workspace["out"], "tables", "capture.csv").Rows
            .Select(row => $"{row["site"]} {row["records"]}/{row["counted"]}");
        Assert.Equal(["A 2/2", "B 4/5", "all 6/7", "all 6/7"], rows);
    }

    [Fact]
    public async Task Without_an_independent_count_the_report_says_that_nobody_knows()
    {
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline);
        await Run();
        Assert.False(File.Exists(_workspace["out", "tables", "capture.csv"]));
        Assert.Contains("Not known: the pipeline has no independent count", _workspace.Read("out", "appendix.html"),
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("month,count\n2026-01,7\n", "`source`")]
    [InlineData("month,count,source,patient\n2026-01,7,tubes,x\n", "column 4")]
    public async Task A_file_of_another_form_is_exit_4(string text, string said)
    {
        _workspace.Write("tubes.csv", text);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out");
        Assert.True(result.Exit == 4, result.ToString());
        Assert.Contains(said, result.Error, StringComparison.Ordinal);
    }

    private async Task Run()
    {
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());
    }

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
