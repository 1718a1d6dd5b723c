using System.Diagnostics;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Runs that meet at one output folder.</summary>
public sealed class MeetingRunsTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Runs_into_one_folder_at_once_leave_one_whole_set()
    {
        var other = TinyPipeline.Rows + "r7,2026-01-29,icu,1,yes\n";
        _workspace.Write("more.csv", other);
        for (var i = 0; i < 3; i++)
        {
            var results = await Task.WhenAll(
                Run(), Run("--source", "procedures=more.csv"), Run("--charts", "none"), Run("--source", "procedures=more.csv"));
            Assert.All(results, result => Assert.True(result.Exit == 0, result.ToString()));
            WrittenSet.AssertWhole(_workspace["out"]);
        }

        Assert.False(Directory.Exists(_workspace[".out.outcomes"]), "something is left beside the set");
    }

    [Fact]
    public async Task A_run_waits_for_another_and_says_so()
    {
        var held = Hold();
        using var process = Process.Start(new ProcessStartInfo("dotnet",
            [Path.Combine(Repository.ToolFolder, "outcomes.dll"), "run", "pipeline.yaml", "--out", "out"])
        {
            WorkingDirectory = _workspace.Folder,
            RedirectStandardError = true,
            RedirectStandardOutput = true,
        })!;
        using (held)
        {
            var said = await process.StandardError.ReadLineAsync(TestContext.Current.CancellationToken);
            Assert.Equal("outcomes: another run is writing `out`; waiting until it has ended", said);
            Assert.False(Directory.Exists(_workspace["out"]));
        }

        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, process.ExitCode);
        WrittenSet.AssertWhole(_workspace["out"]);
    }

    [Fact]
    public async Task A_run_that_shall_not_wait_ends_with_exit_5_and_touches_nothing()
    {
        Assert.Equal(0, (await Run()).Exit);
        var before = Workspace.FilesIn(_workspace["out"]);
        using (Hold())
        {
            var result = await Run("--no-wait", "--charts", "none");
            Assert.True(result.Exit == 5, result.ToString());
            Assert.Contains("another run is writing `out`", result.Error, StringComparison.Ordinal);
        }

        Assert.Equal(before, Workspace.FilesIn(_workspace["out"]));
        Assert.Equal(0, (await Run("--no-wait", "--charts", "none")).Exit);
    }

    private FileStream Hold()
    {
        Directory.CreateDirectory(_workspace[".out.outcomes"]);
        return new FileStream(_workspace[".out.outcomes", "lock"], FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
    }

    private Task<ToolResult> Run(params string[] more) =>
        ToolProcess.Run(_workspace.Folder, ["run", "pipeline.yaml", "--out", "out", .. more]);
}
