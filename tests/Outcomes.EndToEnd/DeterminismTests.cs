using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>The same inputs give the same bytes, whatever the clock's zone, the language, the folder and the number of cores.</summary>
public sealed class DeterminismTests(SharedRuns runs)
{
    private static readonly Dictionary<string, string?> Plain = new() { ["TZ"] = "UTC", ["LANG"] = "C", ["LC_ALL"] = null };

    private static readonly Dictionary<string, string?> Elsewhere = new()
    {
        ["TZ"] = "Pacific/Auckland",
        ["LANG"] = "de_DE.UTF-8",
        ["LC_ALL"] = "de_DE.UTF-8",
        ["DOTNET_PROCESSOR_COUNT"] = "1",
    };

    [Theory]
    [InlineData("monthly.yaml")]
    [InlineData("baseline.yaml")]
    public async Task Two_runs_differ_only_in_timings(string pipeline)
    {
        using var two = Workspace.WithShippedPipelines();
        var first = (await First(pipeline))["out"];
        var second = await Run(two, Elsewhere, pipeline);

        Assert.Equal(Workspace.FilesIn(first), Workspace.FilesIn(second));
        Assert.All(Workspace.FilesIn(first), file => AssertSame(file, Path.Combine(first, file), Path.Combine(second, file)));
    }

    [Fact]
    public async Task A_second_run_from_the_record_store_gives_the_same_bytes()
    {
        // Into the same folder beside the first run's output, which it leaves alone.
        var workspace = await First("monthly.yaml");
        var first = workspace["out"];
        var second = await Run(workspace, Plain, "monthly.yaml", "again");
        Assert.All(Workspace.FilesIn(first), file => AssertSame(file, Path.Combine(first, file), Path.Combine(second, file)));
    }

    [Fact]
    public async Task No_file_of_a_run_names_the_machine_or_its_folders()
    {
        var workspace = await First("monthly.yaml");
        var output = workspace["out"];
        foreach (var file in Workspace.FilesIn(output))
        {
            var text = File.ReadAllText(Path.Combine(output, file));
            Assert.DoesNotContain(workspace.Folder, text, StringComparison.Ordinal);
            Assert.DoesNotContain(Repository.Root + Path.DirectorySeparatorChar, text, StringComparison.Ordinal);
        }
    }

    // Made once for all of these tests.
    private async Task<Workspace> First(string pipeline) =>
        (await runs.Get($"as it stands: {pipeline}", Workspace.WithShippedPipelines, Plain, "run", Path.Combine("pipelines", pipeline),
            "--out", "out")).Workspace;

    private static async Task<string> Run(
        Workspace workspace, Dictionary<string, string?> environment, string pipeline, string name = "out")
    {
        var result = await ToolProcess.Run(workspace.Folder, environment, "run", Path.Combine("pipelines", pipeline), "--out", name);
        Assert.True(result.Exit == 0, result.ToString());
        return workspace[name];
    }

    private static void AssertSame(string file, string first, string second)
    {
        if (file == "run.json")
            Assert.Equal(WithoutTimings(first), WithoutTimings(second));
        else
            Assert.True(File.ReadAllBytes(first).AsSpan().SequenceEqual(File.ReadAllBytes(second)), $"{file} differs between two runs");
    }

    private static string WithoutTimings(string path)
    {
        var manifest = JsonNode.Parse(File.ReadAllText(path))!.AsObject();
        Assert.True(manifest.Remove("timings_ms"), "run.json has no timings");
        return manifest.ToJsonString();
    }
}
