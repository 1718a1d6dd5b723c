using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>The report as PDF, printed by a browser that is on the machine already.</summary>
public sealed class PdfTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Without_a_browser_nothing_is_run_or_written_and_the_way_out_is_said()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "browsers outside PATH are looked for elsewhere");
        // The host of .NET is found by its own path; nothing else is on this one.
        var result = await ToolProcess.Start(Dotnet(), _workspace.Folder, new Dictionary<string, string?> { ["PATH"] = _workspace.Folder },
            Path.Combine(Repository.ToolFolder, "outcomes.dll"), "run", "pipeline.yaml", "--out", "out", "--pdf");
        Assert.Equal(5, result.Exit);
        Assert.Contains("none was found; leave --pdf out", result.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_workspace["out"]));
    }

    [Fact]
    public async Task A_browser_that_fails_leaves_no_half_made_set()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "the stand-in for a browser is a shell script");
        File.CreateSymbolicLink(_workspace["chromium"], "/usr/bin/false");
        var result = await ToolProcess.Start(Dotnet(), _workspace.Folder, new Dictionary<string, string?> { ["PATH"] = _workspace.Folder },
            Path.Combine(Repository.ToolFolder, "outcomes.dll"), "run", "pipeline.yaml", "--out", "out", "--pdf");
        Assert.Equal(5, result.Exit);
        Assert.Contains("`chromium` could not print the report", result.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_workspace["out"]) || Directory.Exists(_workspace[".out.outcomes"]));
    }

    [Fact]
    public async Task A_browser_prints_it_tagged_with_a_title_and_the_page_one_by_itself()
    {
        Assert.SkipUnless((Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .Any(folder => File.Exists(Path.Combine(folder, "chromium"))), "no Chromium here: Debian has chromium");
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--pdf");
        Assert.True(result.Exit == 0, result.ToString());
        var pdf = Encoding.Latin1.GetString(await File.ReadAllBytesAsync(_workspace["out", "report.pdf"],
            TestContext.Current.CancellationToken));
        Assert.StartsWith("%PDF-", pdf, StringComparison.Ordinal);
        Assert.Contains("/MarkInfo", pdf, StringComparison.Ordinal);
        Assert.Contains("/StructTreeRoot", pdf, StringComparison.Ordinal);
        Assert.Contains("/Outlines", pdf, StringComparison.Ordinal);
        // The appendix is looked things up in: it is printed where that is asked for.
        Assert.False(File.Exists(_workspace["out", "appendix.pdf"]));
        var all = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--pdf", "all");
        Assert.True(all.Exit == 0, all.ToString());
        Assert.True(File.Exists(_workspace["out", "report.pdf"]) && File.Exists(_workspace["out", "appendix.pdf"]));
    }

    private static string Dotnet() => Environment.ProcessPath is { } path && Path.GetFileNameWithoutExtension(path) == "dotnet" ? path
        : Path.GetFullPath(Path.Combine(System.Runtime.InteropServices.RuntimeEnvironment.GetRuntimeDirectory(),
            "..", "..", "..", "dotnet"));
}
