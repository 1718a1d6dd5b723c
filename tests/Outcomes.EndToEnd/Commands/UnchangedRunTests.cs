using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>A run with nothing changed leaves its output as it is; whatever could change a byte of it makes it anew.</summary>
public sealed class UnchangedRunTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_second_run_leaves_every_file_as_it_is_and_says_so()
    {
        Assert.DoesNotContain("nothing has changed", (await Run()).Error, StringComparison.Ordinal);
        var before = Written();
        var again = await Run();
        Assert.Contains("nothing has changed", again.Error, StringComparison.Ordinal);
        Assert.Contains("report.html", again.Output, StringComparison.Ordinal);
        Assert.Equal(before, Written());
        Assert.False(Directory.Exists(_workspace[".out.outcomes"]));
    }

    [Theory]
    [InlineData("rows.csv", "r4,2026-01-12,ed,1,yes", "r4,2026-01-12,ed,1,no")]
    [InlineData("measure.yaml", "Every further attempt", "Each further attempt")]
    [InlineData("mapping.yaml", "columns:", "# a word more\ncolumns:")]
    [InlineData("fields.json", "Was the tube placed", "Was a tube placed")]
    [InlineData("pipeline.yaml", "tolerance: 0.2", "tolerance: 0.3")]
    public async Task A_change_of_an_input_or_a_definition_makes_it_anew(string file, string was, string becomes)
    {
        await Run();
        var text = File.ReadAllText(_workspace[file]);
        Assert.Contains(was, text, StringComparison.Ordinal);
        File.WriteAllText(_workspace[file], text.Replace(was, becomes, StringComparison.Ordinal));
        await Anew();
    }

    [Theory]
    [InlineData("report.html", "</body>", " </body>")]
    [InlineData("tables/counts.csv", "2026-01", "2026-02")]
    public async Task A_change_of_the_output_is_exit_5_naming_the_file_and_made_anew_when_told_to(string file, string was, string becomes)
    {
        await Run();
        var text = _workspace.Read("out", file);
        Assert.Contains(was, text, StringComparison.Ordinal);
        _workspace.Write(Path.Combine("out", file), text.Replace(was, becomes, StringComparison.Ordinal));
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.Equal(5, result.Exit);
        Assert.Contains(file, result.Error, StringComparison.Ordinal);
        await Anew("--replace");
        Assert.Equal(text, _workspace.Read("out", file));
    }

    [Fact]
    public async Task A_file_too_few_or_another_setting_makes_it_anew_and_a_file_too_many_when_told_to()
    {
        await Run();
        File.Delete(_workspace["out", "tables", "runcharts.csv"]);
        await Anew();
        _workspace.Write("out/notes.txt", "mine");
        Assert.Equal(5, (await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none")).Exit);
        await Anew("--replace");
        await Anew("--as-of", "2026-02-02");
        await Anew("--as-of", "2026-02-02", "--month", "2025-12");
        await ToolProcess.Run(_workspace.Folder, "forget", "pipeline.yaml");
        Assert.False(Directory.Exists(_workspace[".outcomes/tiny"]), "something is left in the store");
        await Anew("--as-of", "2026-02-02", "--month", "2025-12");
    }

    private async Task Anew(params string[] more)
    {
        var result = await Run(more);
        Assert.DoesNotContain("nothing has changed", result.Error, StringComparison.Ordinal);
        Assert.Contains("nothing has changed", (await Run(more)).Error, StringComparison.Ordinal);
    }

    private async Task<ToolResult> Run(params string[] more)
    {
        var result = await ToolProcess.Run(_workspace.Folder, ["run", "pipeline.yaml", "--out", "out", "--charts", "none", .. more]);
        Assert.True(result.Exit == 0, result.ToString());
        return result;
    }

    private string[] Written() =>
        [.. Workspace.FilesIn(_workspace["out"]).Select(file => $"{file} {File.GetLastWriteTimeUtc(_workspace["out", file]).Ticks}")];
}
