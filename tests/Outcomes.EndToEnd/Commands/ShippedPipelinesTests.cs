using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Every pipeline of the project is in order: its files, its definitions and their examples, and its data.</summary>
public sealed class ShippedPipelinesTests
{
    public static TheoryData<string> Pipelines =>
        [.. Directory.GetFiles(Repository.InRoot("pipelines"), "*.yaml").Where(IsPipeline).Select(file => Path.GetFileName(file))
            .Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Pipelines))]
    public async Task Check_finds_it_in_order(string pipeline)
    {
        using var workspace = Workspace.WithShippedPipelines();
        var result = await ToolProcess.Run(workspace.Folder, "check", Path.Combine("pipelines", pipeline));
        Assert.True(result.Exit == 0, result.ToString());
        Assert.Empty(Directory.GetDirectories(workspace.Folder, "outcomes-out"));
    }

    [Fact]
    public void The_two_pipelines_are_there() => Assert.Superset(new HashSet<string> { "baseline.yaml", "monthly.yaml" },
        Directory.GetFiles(Repository.InRoot("pipelines")).Select(file => Path.GetFileName(file)).ToHashSet());

    private static bool IsPipeline(string file) => File.ReadLines(file).Any(line => line.StartsWith("sources:", StringComparison.Ordinal));
}
