using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>What a run finds in its output folder that is not its own: nothing is replaced unasked.</summary>
public sealed class OthersFilesTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Theory]
    [InlineData("notes.txt", false)]
    [InlineData("tables/notes.csv", false)]
    [InlineData("mine/deep/notes.txt", false)]
    [InlineData("cases.html", true)]
    [InlineData("tables/quarantine.csv", true)]
    public async Task A_persons_file_or_a_changed_one_is_exit_5_with_its_name_until_replace_is_said(string file, bool ours)
    {
        await Good();
        var path = _workspace.Write(Path.Combine("out", file), (ours ? _workspace.Read("out", file) : "") + "my work");
        var before = All("out");
        AssertStopped(await Run("--month", "2025-12"), file);
        AssertStopped(await Run(), file);
        Assert.Equal(before, All("out"));

        await Good("--replace", "--month", "2025-12");
        Assert.Equal(ours, File.Exists(path));
        WrittenSet.AssertWhole(_workspace["out"]);
    }

    [Fact]
    public async Task A_change_that_keeps_a_files_length_is_seen()
    {
        await Good();
        _workspace.Write("out/report.html", _workspace.Read("out", "report.html").Replace("airway", "AIRWAY", StringComparison.Ordinal));
        AssertStopped(await Run(), "report.html");
    }

    [Fact]
    public async Task A_link_in_the_folder_is_no_file_of_ours_and_its_target_stays()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "links need a right there");
        await Good();
        _workspace.Write("elsewhere/work.txt", "my work");
        Directory.CreateSymbolicLink(_workspace["out", "linked"], _workspace["elsewhere"]);
        AssertStopped(await Run(), "linked");
        await Good("--replace");
        Assert.Equal("my work", _workspace.Read("elsewhere", "work.txt"));
    }

    [Fact]
    public async Task What_a_file_browser_leaves_stops_nothing()
    {
        await Good();
        _workspace.Write("out/.DS_Store", "x");
        Assert.Contains("nothing has changed", (await Good()).Error, StringComparison.Ordinal);
        await Good("--month", "2025-12");
    }

    [Fact]
    public async Task An_output_folder_that_is_a_link_is_exit_5_and_its_target_stays()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "links need a right there");
        await Good();
        Directory.Move(_workspace["out"], _workspace["real"]);
        _workspace.Write("real/notes.txt", "my work");
        Directory.CreateSymbolicLink(_workspace["out"], _workspace["real"]);
        var before = All("real");
        AssertStopped(await Run(), "is a link");
        AssertStopped(await Run("--replace"), "is a link");
        Assert.Equal(before, All("real"));
        Assert.NotNull(new DirectoryInfo(_workspace["out"]).LinkTarget);
    }

    [Fact]
    public async Task A_run_for_others_does_not_take_the_place_of_the_departments_report()
    {
        await Good();
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "audience: network\n");
        AssertStopped(await Run(), "a report for the department");
        await Good("--replace");
        Assert.Equal(["datapackage.json", "report.html", "run.json", "tables/counts.csv", "tables/estimates.csv"],
            Workspace.FilesIn(_workspace["out"]));
        WrittenSet.AssertWhole(_workspace["out"]);
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline);
        AssertStopped(await Run(), "a report for a network");
    }

    [Fact]
    public async Task Two_pipelines_of_one_name_do_not_share_a_default_folder()
    {
        foreach (var file in Workspace.FilesIn(_workspace.Folder)) _workspace.Write(Path.Combine("second", file), _workspace.Read(file));
        _workspace.Write("other.yaml", TinyPipeline.Pipeline);
        Assert.Equal(0, (await Tool("run", "pipeline.yaml")).Exit);
        var before = All("outcomes-out");
        AssertStopped(await Tool("run", Path.Combine("second", "pipeline.yaml")), "another pipeline");
        AssertStopped(await Tool("run", "other.yaml"), "another pipeline");
        Assert.Equal(before, All("outcomes-out"));
        Assert.Equal(0, (await Tool("run", "other.yaml", "--replace")).Exit);
    }

    [Fact]
    public async Task A_pipeline_moved_with_its_folder_and_its_reports_goes_on()
    {
        foreach (var file in Workspace.FilesIn(_workspace.Folder)) _workspace.Write(Path.Combine("first", file), _workspace.Read(file));
        Assert.Equal(0, (await Tool("run", Path.Combine("first", "pipeline.yaml"), "--out", Path.Combine("first", "out"))).Exit);
        Directory.Move(_workspace["first"], _workspace["moved"]);
        var again = await Tool("run", Path.Combine("moved", "pipeline.yaml"), "--out", Path.Combine("moved", "out"), "--month", "2025-12");
        Assert.True(again.Exit == 0, again.ToString());
    }

    [Fact]
    public async Task Replace_never_replaces_a_folder_without_a_report_or_one_with_the_pipeline_in_it()
    {
        _workspace.Write("out/notes.txt", "my work");
        AssertStopped(await Run("--replace"), "not an earlier report");
        Assert.Equal("my work", _workspace.Read("out", "notes.txt"));
        var result = await Tool("run", "pipeline.yaml", "--out", ".", "--replace");
        Assert.True(result.Exit == 2, result.ToString());
        Assert.True(File.Exists(_workspace["pipeline.yaml"]));
    }

    [Fact]
    public async Task The_page_of_a_case_is_never_written_over_a_file()
    {
        using var shipped = Workspace.WithShippedPipelines();
        var pipeline = Path.Combine("pipelines", "monthly.yaml");
        var ids = (await ToolProcess.Run(shipped.Folder, "review", pipeline, "--case", "none")).Error;
        var id = ids[(ids.IndexOf("it has ", StringComparison.Ordinal) + 7)..].Split(',', ';')[0];
        shipped.Write("one.html", "my work");
        AssertStopped(await ToolProcess.Run(shipped.Folder, "review", pipeline, "--case", id, "--out", "one.html"), "there already");
        Assert.Equal("my work", shipped.Read("one.html"));
    }

    private string[] All(string folder) => [.. Workspace.FilesIn(_workspace[folder])
        .Select(file => $"{file} {Convert.ToBase64String(File.ReadAllBytes(_workspace[folder, file]))}")];

    private async Task<ToolResult> Good(params string[] more)
    {
        var result = await Run(more);
        Assert.True(result.Exit == 0, result.ToString());
        return result;
    }

    private Task<ToolResult> Run(params string[] more) =>
        Tool(["run", "pipeline.yaml", "--out", "out", "--charts", "none", .. more]);

    private Task<ToolResult> Tool(params string[] arguments) => ToolProcess.Run(_workspace.Folder, arguments);

    private static void AssertStopped(ToolResult result, string said)
    {
        Assert.True(result.Exit == 5, result.ToString());
        Assert.Contains(said, result.Error, StringComparison.Ordinal);
    }
}
