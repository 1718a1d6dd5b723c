using System.Diagnostics;
using System.Security.Cryptography;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>What a command that was stopped leaves, and that the next one goes on from there.</summary>
public sealed class StoppedTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Theory]
    [InlineData("lock")]
    [InlineData("new-a1b2/run.json")]
    [InlineData("new-a1b2/tables/counts.csv.part")]
    [InlineData("old/run.json")]
    public async Task What_a_killed_run_leaves_beside_the_set_is_cleared(string left)
    {
        await Good("run", "pipeline.yaml", "--out", "out", "--charts", "none");
        _workspace.Write(Path.Combine(".out.outcomes", left), "{\"half");
        await Good("run", "pipeline.yaml", "--out", "out", "--charts", "none", "--month", "2025-12");
        WrittenSet.AssertWhole(_workspace["out"]);
        Assert.False(Directory.Exists(_workspace[".out.outcomes"]));
    }

    [Fact]
    public async Task A_set_that_a_killed_run_had_moved_away_comes_back()
    {
        await Good("run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Directory.CreateDirectory(_workspace[".out.outcomes"]);
        Directory.Move(_workspace["out"], _workspace[".out.outcomes", "old"]);
        // This run writes nothing: the source is missing.
        File.Delete(_workspace["rows.csv"]);
        Assert.Equal(4, (await Tool("run", "pipeline.yaml", "--out", "out", "--charts", "none")).Exit);
        WrittenSet.AssertWhole(_workspace["out"]);
        Assert.False(Directory.Exists(_workspace[".out.outcomes"]));
    }

    [Fact]
    public async Task Other_files_where_the_set_is_built_are_exit_5_and_stay()
    {
        _workspace.Write(".out.outcomes/letter.txt", "my work");
        var result = await Tool("run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 5, result.ToString());
        Assert.Equal(["letter.txt"], Workspace.FilesIn(_workspace[".out.outcomes"]));
    }

    [Fact]
    public async Task Files_that_a_killed_command_had_placed_are_taken_back_and_no_others()
    {
        // As a command leaves them that was killed between the first file and the last.
        var form = _workspace.Write("form.html", "half of two");
        var mine = _workspace.Write("form.yaml", "my work");
        _workspace.Write(".form.html.outcomes/begun", $"{Hash("half of two")} 11 {form}\n{Hash("not mine")} 8 {mine}\n");
        var result = await Tool("form", "--out", "form.html", "--mapping", "form.yaml");
        Assert.True(result.Exit == 5, result.ToString());
        Assert.Contains("form.yaml", result.Error, StringComparison.Ordinal);
        Assert.Equal("my work", File.ReadAllText(mine));
        File.Delete(mine);
        await Good("form", "--out", "form.html", "--mapping", "form.yaml");
        Assert.True(new FileInfo(form).Length > 1000 && File.Exists(mine));
    }

    [Fact]
    public async Task What_a_killed_command_left_beside_any_of_its_files_goes_with_the_next_one()
    {
        await Good("form", "--out", "form.html", "--mapping", "form.yaml");
        foreach (var name in (string[])["form.html", "form.yaml"]) _workspace.Write($".{name}.outcomes/new-a1", "half");
        var result = await Tool("form", "--out", "form.html", "--mapping", "form.yaml");
        Assert.True(result.Exit == 5, result.ToString());
        Assert.False(Directory.Exists(_workspace[".form.html.outcomes"]));
        Assert.False(Directory.Exists(_workspace[".form.yaml.outcomes"]));
    }

    [Theory]
    [InlineData("init", "new")]
    [InlineData("synthesise", "--procedures", "50", "--out", "new")]
    public async Task A_folder_to_edit_is_made_whole_where_a_killed_command_had_begun(params string[] command)
    {
        var half = _workspace.Write("new/mappings/demo.yaml", "half");
        _workspace.Write(".new.outcomes/begun", $"{Hash("half")} 4 {half}\n");
        _workspace.Write(".new.outcomes/new-a1/pipeline.yaml", "half");
        await Good(command);
        Assert.True(File.Exists(_workspace["new", "pipeline.yaml"]));
        Assert.False(Directory.Exists(_workspace[".new.outcomes"]));
    }

    [Theory]
    [InlineData("TERM")]
    [InlineData("INT")]
    public async Task A_run_that_is_interrupted_is_exit_130_and_leaves_the_old_set_or_the_new_one(string signal)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "signals are sent by kill");
        await Good("run", "pipeline.yaml", "--out", "out", "--charts", "none");
        var interrupted = 0;
        for (var i = 0; i < 4; i++)
        {
            // A shell ignores SIGINT in what it starts in the background, tests included, and children inherit that.
            string[] command = [.. OperatingSystem.IsLinux() ? (string[])["env", "--default-signal=INT", "dotnet"] : ["dotnet"],
                Path.Combine(Repository.ToolFolder, "outcomes.dll"), "run", "pipeline.yaml", "--out", "out", "--charts", "none",
                "--as-of", $"2026-02-0{i + 2}"];
            using var process = Process.Start(new ProcessStartInfo(command[0], command[1..])
            {
                WorkingDirectory = _workspace.Folder,
                RedirectStandardError = true,
                RedirectStandardOutput = true,
            })!;
            // From the moment on that it holds the folder, where there is something to lose.
            while (!process.HasExited && !Directory.Exists(_workspace[".out.outcomes"]))
                await Task.Delay(1, TestContext.Current.CancellationToken);
            await Task.Delay(i * 40, TestContext.Current.CancellationToken);
            await ToolProcess.Start("kill", _workspace.Folder, ToolProcess.Unchanged, $"-{signal}", $"{process.Id}");
            var said = await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
            await process.WaitForExitAsync(TestContext.Current.CancellationToken);
            Assert.True(process.ExitCode is 130 or 0, $"exit {process.ExitCode}: {said}");
            interrupted += process.ExitCode == 130 ? 1 : 0;
            WrittenSet.AssertWhole(_workspace["out"]);
        }

        Assert.True(interrupted > 0, "no run was interrupted before its end");
        await Good("run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.False(Directory.Exists(_workspace[".out.outcomes"]));
    }

    private static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(text)));

    private async Task Good(params string[] arguments)
    {
        var result = await Tool(arguments);
        Assert.True(result.Exit == 0, result.ToString());
    }

    private Task<ToolResult> Tool(params string[] arguments) => ToolProcess.Run(_workspace.Folder, arguments);
}
