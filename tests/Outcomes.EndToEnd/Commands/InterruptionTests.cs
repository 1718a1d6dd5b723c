using System.Diagnostics;
using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Runs that are killed, and runs that meet.</summary>
public sealed class InterruptionTests : IDisposable
{
    private const string More = "r7,2026-01-29,icu,1,yes\n";

    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Two_runs_at_once_on_one_store_give_the_same_outputs()
    {
        _workspace.Write("second.yaml", TinyPipeline.Pipeline);
        var results = await Task.WhenAll(Tool("pipeline.yaml", "one"), Tool("pipeline.yaml", "two"), Tool("second.yaml", "three"));
        Assert.All(results, result => Assert.True(result.Exit == 0, result.ToString()));
        Assert.Equal(Set("one"), Set("two"));
        Assert.Equal(Set("one"), Set("three"));
        Assert.Equal(0, (await Tool("pipeline.yaml", "one")).Exit);
        Assert.Single(Directory.GetDirectories(_workspace[".outcomes", "tiny"]));
    }

    /// <summary>
    /// Moments are spread evenly over a run, with a seeded shift, so that start, reading, tables, report and swap are each hit.
    /// </summary>
    [Fact]
    public async Task A_run_killed_at_any_moment_leaves_the_old_set_or_the_new_one_and_the_next_run_works()
    {
        var watch = Stopwatch.StartNew();
        Assert.Equal(0, (await Tool("pipeline.yaml", "out")).Exit);
        var old = Set("out");
        _workspace.Write("rows.csv", TinyPipeline.Rows + More);
        Assert.Equal(0, (await Tool("pipeline.yaml", "reference")).Exit);
        var (whole, changed) = (watch.Elapsed / 2, Set("reference"));
        Assert.NotEqual(old, changed);

        const int kills = 20;
        var random = new Random(3);
        var standing = old;
        var replaced = 0;
        for (var i = 0; i < kills; i++)
        {
            // The input alternates with what stands, so that every run has something to replace.
            var next = standing == old ? changed : old;
            _workspace.Write("rows.csv", next == old ? TinyPipeline.Rows : TinyPipeline.Rows + More);
            await Kill(whole * ((i + random.NextDouble()) / kills));
            var left = Set("out");
            Assert.True(left == standing || left == next, $"killed after {i}/{kills} of a run, the folder holds a mixture");
            replaced += left == next ? 1 : 0;
            standing = left;
            // What was left lying does not stop a next run: tried after every fifth.
            if (i % 5 != 4) continue;
            Assert.Equal(0, (await Tool("pipeline.yaml", "out")).Exit);
            standing = Set("out");
            Assert.Equal(next, standing);
        }

        Assert.True(replaced < kills, "no run was killed before its end");
        Assert.Equal(0, (await Tool("pipeline.yaml", "out")).Exit);
        Assert.Empty(Directory.GetDirectories(_workspace[".outcomes", "tiny"], "new-*"));
        Assert.False(Directory.Exists(_workspace[".out.outcomes"]));
        WrittenSet.AssertWhole(_workspace["out"]);
    }

    private async Task Kill(TimeSpan moment)
    {
        var start = new ProcessStartInfo("dotnet", [Path.Combine(Repository.ToolFolder, "outcomes.dll"), "run", "pipeline.yaml", "--out",
            "out", "--charts", "none"])
        {
            WorkingDirectory = _workspace.Folder,
            RedirectStandardError = true,
            RedirectStandardOutput = true,
        };
        // As fast as the run that the moments were taken from.
        ToolProcess.Hasten(start);
        using var process = Process.Start(start)!;
        await Task.Delay(moment, TestContext.Current.CancellationToken);
        process.Kill();
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
    }

    private Task<ToolResult> Tool(string pipeline, string output) =>
        ToolProcess.Run(_workspace.Folder, "run", pipeline, "--out", output, "--charts", "none");

    // The whole set as one text: every file by name and bytes, without timings.
    private string Set(string output) => string.Join('\n', Workspace.FilesIn(_workspace[output]).Select(file =>
    {
        if (file != "run.json") return $"{file} {Convert.ToBase64String(File.ReadAllBytes(_workspace[output, file]))}";
        var manifest = JsonNode.Parse(_workspace.Read(output, file))!.AsObject();
        manifest.Remove("timings_ms");
        // Of one and the same definitions under two file names.
        manifest.Remove("pipeline_id");
        return $"{file} {manifest.ToJsonString()}";
    }));
}
