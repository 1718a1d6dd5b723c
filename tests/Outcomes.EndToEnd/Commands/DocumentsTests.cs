using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>The documents say what is so: their links lead somewhere, and the first command of the README does what it promises.</summary>
public sealed partial class DocumentsTests(DemoRun demo) : IClassFixture<DemoRun>
{
    private static readonly string[] Folders = [".", "docs", Path.Combine("docs", "decisions"), Path.Combine("docs", "research")];

    public static TheoryData<string> Documents => [.. Folders
        .SelectMany(folder => Directory.GetFiles(Repository.InRoot(folder), "*.md"))
        .Select(path => Path.GetRelativePath(Repository.Root, path)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Documents))]
    public void Every_link_within_the_project_leads_to_a_file(string document)
    {
        var folder = Path.GetDirectoryName(Repository.InRoot(document))!;
        var targets = Link().Matches(File.ReadAllText(Repository.InRoot(document)))
            .Select(match => match.Groups["target"].Value)
            .Where(target => !target.Contains("://", StringComparison.Ordinal) && !target.StartsWith('#'));
        Assert.All(targets, target => Assert.True(Path.Exists(Path.Combine(folder, target.Split('#')[0])),
            $"{document} links to {target}, which is not there"));
    }

    [Fact]
    public void The_readme_gives_the_two_commands_word_for_word()
    {
        var readme = File.ReadAllText(Repository.InRoot("README.md"));
        Assert.Contains("dotnet run -c Release --project src/Outcomes.Cli -- demo", readme, StringComparison.Ordinal);
        Assert.Contains("tests/run", readme, StringComparison.Ordinal);
    }

    [Fact]
    public void Demo_ends_with_exit_0_and_the_report_in_its_folder()
    {
        // That it ended with exit 0 is what the run itself asks for.
        Assert.Contains("report.html", demo.Output, StringComparison.Ordinal);
        Assert.True(new FileInfo(demo["report.html"]).Length > 10_000);
        Assert.True(File.Exists(demo["run.json"]));
    }

    [Fact]
    public async Task Init_writes_a_pipeline_that_check_understands()
    {
        using var workspace = new Workspace();
        var init = await ToolProcess.Run(workspace.Folder, "init", "mine");
        Assert.True(init.Exit == 0, init.ToString());
        var pipeline = Directory.GetFiles(workspace["mine"], "*.yaml")
            .Single(file => File.ReadAllText(file).Contains("sources:", StringComparison.Ordinal));
        var check = await ToolProcess.Run(workspace.Folder, "check", pipeline);
        // Its definitions are right; only the export is still to come.
        Assert.True(check.Exit is 0 or 4, check.ToString());
    }

    [GeneratedRegex(@"\]\((?<target>[^)\s]+)\)")]
    private static partial Regex Link();
}
