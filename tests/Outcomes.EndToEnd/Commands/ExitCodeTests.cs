using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>The exit codes that scripts rely on, each with what a person is told and what is left on the disk.</summary>
public sealed class ExitCodeTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_good_pipeline_is_exit_0_and_may_be_run_again_over_its_own_output()
    {
        Assert.Equal(0, (await Run()).Exit);
        var again = await Run();
        Assert.True(again.Exit == 0, again.ToString());
        Assert.True(File.Exists(_workspace["out", "report.html"]));
        Assert.False(Directory.Exists(_workspace[".out.outcomes"]));
        var january = Assert.Single(CsvTable.Read(_workspace["out"], "tables", "counts.csv").Rows,
            row => row["period"] == "2026-01" && row["stratum"] == "all");
        Assert.Equal(("3", "5", "1"), (january["met"], january["eligible"], january["missing"]));
    }

    [Fact]
    public async Task A_measure_with_an_unknown_field_is_exit_3_naming_file_and_line()
    {
        _workspace.Write("measure.yaml",
            TinyPipeline.Measure.Replace("met: tube_first_time", "met: no_such_field", StringComparison.Ordinal));
        var result = await Run();
        AssertStopped(3, result, "measure.yaml:5", "no_such_field");
    }

    [Fact]
    public async Task A_wrong_definition_is_said_before_any_source_is_read()
    {
        _workspace.Write("measure.yaml",
            TinyPipeline.Measure.Replace("met: tube_first_time", "met: no_such_field", StringComparison.Ordinal));
        File.Delete(_workspace["rows.csv"]);
        AssertStopped(3, await Run(), "measure.yaml:5", "no_such_field");
    }

    [Fact]
    public async Task A_pipeline_with_an_unknown_field_in_its_strata_is_exit_3_naming_file_and_line()
    {
        _workspace.Write("pipeline.yaml",
            TinyPipeline.Pipeline.Replace("strata: [location_type]", "strata: [no_such_field]", StringComparison.Ordinal));
        AssertStopped(3, await Run(), "pipeline.yaml:7", "no_such_field");
    }

    [Fact]
    public async Task A_mapping_of_an_unknown_field_is_exit_3_naming_file_and_line()
    {
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping + "  no_such_field: {column: id}\n");
        AssertStopped(3, await Run(), "mapping.yaml:7", "no_such_field");
    }

    [Fact]
    public async Task An_unknown_key_in_the_pipeline_is_exit_3_naming_file_and_line()
    {
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "colour: blue\n");
        AssertStopped(3, await Run(), "pipeline.yaml:10", "colour");
    }

    [Fact]
    public async Task A_condition_that_is_not_yes_or_no_is_exit_3_naming_file_and_line()
    {
        _workspace.Write("measure.yaml",
            TinyPipeline.Measure.Replace("met: tube_first_time", "met: attempts_total + 1", StringComparison.Ordinal));
        AssertStopped(3, await Run(), "measure.yaml:5");
    }

    [Fact]
    public async Task An_example_that_does_not_come_out_as_it_says_is_exit_3_naming_its_line()
    {
        _workspace.Write("measure.yaml", TinyPipeline.Measure.Replace("expect: met", "expect: not_met", StringComparison.Ordinal));
        AssertStopped(3, await ToolProcess.Run(_workspace.Folder, "check", "pipeline.yaml"), "measure.yaml:10");
    }

    [Fact]
    public async Task A_missing_pipeline_is_exit_3() =>
        AssertStopped(3, await ToolProcess.Run(_workspace.Folder, "run", "elsewhere.yaml", "--out", "out"), "elsewhere.yaml");

    [Fact]
    public async Task A_missing_source_is_exit_4_naming_it()
    {
        File.Delete(_workspace["rows.csv"]);
        AssertStopped(4, await Run(), "rows.csv");
    }

    [Fact]
    public async Task A_header_like_an_NHS_number_is_exit_4_naming_it_and_no_value_leaves_the_file()
    {
        // From the range reserved for tests; the digits pass the checksum.
        const string number = "9990000018";
        var lines = TinyPipeline.Rows.TrimEnd('\n').Split('\n');
        _workspace.Write("rows.csv", string.Join('\n', lines.Select((line, i) => line + (i == 0 ? ",NHS number" : "," + number))) + "\n");
        var result = await Run();
        Assert.True(result.Exit == 4, result.ToString());
        Assert.Contains("NHS number", result.Error, StringComparison.Ordinal);
        Assert.DoesNotContain(number, result.Output + result.Error, StringComparison.Ordinal);
        foreach (var file in Workspace.FilesIn(_workspace.Folder).Where(file => file != "rows.csv"))
            Assert.DoesNotContain(number, _workspace.Read(file), StringComparison.Ordinal);
        Assert.False(File.Exists(_workspace["out", "report.html"]));
    }

    [Fact]
    public async Task More_quarantined_than_tolerated_is_exit_4_with_ledger_findings_and_quarantine_only()
    {
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r7,not a date,icu,1,yes\nr8,2026-02-30,icu,1,yes\n");
        var result = await Run();
        Assert.True(result.Exit == 4, result.ToString());
        Assert.Equal(2, CsvTable.Read(_workspace["out"], "tables", "quarantine.csv").Count);
        Assert.Equal(8, CsvTable.Read(_workspace["out"], "tables", "ledger.csv").Count);
        Assert.True(File.Exists(_workspace["out", "tables", "findings.csv"]));
        Assert.False(File.Exists(_workspace["out", "tables", "counts.csv"]));
        Assert.False(File.Exists(_workspace["out", "report.html"]));
    }

    [Fact]
    public async Task An_unwritable_output_folder_is_exit_5_and_touches_nothing()
    {
        // A file where a folder should be: unwritable for everyone, an administrator included.
        _workspace.Write("letter.txt", "mine");
        AssertStopped(5,
            await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", Path.Combine("letter.txt", "out")), "letter.txt");
        Assert.Equal("mine", _workspace.Read("letter.txt"));
    }

    [Fact]
    public async Task An_output_folder_with_other_files_is_exit_5_and_stays_as_it_was()
    {
        _workspace.Write(Path.Combine("out", "letter.txt"), "mine");
        AssertStopped(5, await Run(), "out");
        Assert.Equal(["letter.txt"], Workspace.FilesIn(_workspace["out"]));
        Assert.Equal("mine", _workspace.Read("out", "letter.txt"));
        Assert.False(Directory.Exists(_workspace[".out.outcomes"]));
    }

    [Fact]
    public async Task Files_of_others_beside_the_output_folder_stay_as_they_were()
    {
        foreach (var folder in new[] { "out.new", "out.old", ".outcomes-work" })
            _workspace.Write(Path.Combine(folder, "letter.txt"), "mine");
        await Run();
        foreach (var folder in new[] { "out.new", "out.old", ".outcomes-work" })
            Assert.Equal("mine", _workspace.Read(folder, "letter.txt"));
    }

    [Fact]
    public async Task Check_returns_what_run_would_and_writes_no_report()
    {
        var good = await ToolProcess.Run(_workspace.Folder, "check", "pipeline.yaml");
        Assert.True(good.Exit == 0, good.ToString());
        File.Delete(_workspace["rows.csv"]);
        Assert.Equal(4, (await ToolProcess.Run(_workspace.Folder, "check", "pipeline.yaml")).Exit);
        Assert.DoesNotContain(Workspace.FilesIn(_workspace.Folder), file => file.EndsWith(".html", StringComparison.Ordinal));
    }

    private Task<ToolResult> Run() => ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out");

    private static void AssertStopped(int exit, ToolResult result, params string[] said)
    {
        Assert.True(result.Exit == exit, result.ToString());
        Assert.All(said, text => Assert.Contains(text, result.Error, StringComparison.Ordinal));
        Assert.DoesNotContain("   at ", result.Error, StringComparison.Ordinal);
    }
}
