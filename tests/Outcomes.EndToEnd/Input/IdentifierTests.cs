using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Files that identify people, by the tool as a process: refused, stripped, read.</summary>
public sealed class IdentifierTests : IDisposable
{
    // Of the range kept for tests, 999 000 0000 and up; its check digit is right (modulus 11).
    private const string Number = "999 000 0018";

    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_refused_file_leaves_its_refusal_and_not_its_numbers()
    {
        WithColumn("Remark", Number);
        var result = await Run();
        Assert.True(result.Exit == 4, result.ToString());
        Assert.Contains("Remark", result.Error, StringComparison.Ordinal);
        Assert.DoesNotContain(Number, result.ToString(), StringComparison.Ordinal);
        Assert.Contains("identifier_nhs_number_as_printed", _workspace.Read("out", "tables", "findings.csv"), StringComparison.Ordinal);
        foreach (var file in Workspace.FilesIn(_workspace["out"]))
            Assert.DoesNotContain(Number, _workspace.Read("out", file), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_stripped_copy_runs_and_is_never_written_twice()
    {
        WithColumn("Remark", Number);
        var result = await ToolProcess.Run(_workspace.Folder, "strip", "rows.csv", "--out", "copy.csv", "--mapping", "mapping.yaml");
        Assert.True(result.Exit == 0, result.ToString());
        Assert.Contains("`Remark`", result.Output, StringComparison.Ordinal);
        Assert.Equal(5, (await ToolProcess.Run(_workspace.Folder, "strip", "rows.csv", "--out", "copy.csv")).Exit);
        var run = await Run("--source", "procedures=copy.csv");
        Assert.True(run.Exit == 0, run.ToString());
    }

    [Fact]
    public async Task A_checked_column_is_read_and_on_record()
    {
        WithColumn("Remark", Number);
        _workspace.Write("mapping.yaml",
            TinyPipeline.Mapping + "columns_checked:\n  Remark: serial codes, checked by the audit lead, 2026-01-31\n");
        var run = await Run();
        Assert.True(run.Exit == 0, run.ToString());
        Assert.Contains("column_checked", _workspace.Read("out", "tables", "findings.csv"), StringComparison.Ordinal);
        Assert.Contains("columns_checked", _workspace.Read("out", "run.json"), StringComparison.Ordinal);
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping + "columns_checked:\n  Remark: fine\n");
        Assert.Equal(3, (await Run()).Exit);
    }

    private Task<ToolResult> Run(params string[] more) =>
        ToolProcess.Run(_workspace.Folder, ["run", "pipeline.yaml", "--out", "out", "--charts", "none", .. more]);

    // A column more at the end; its first cell holds the text.
    private void WithColumn(string heading, string cell)
    {
        var lines = _workspace.Read("rows.csv").TrimEnd('\n').Split('\n');
        _workspace.Write("rows.csv", string.Concat(lines.Select((line, i) => $"{line},{(i == 0 ? heading : i == 1 ? cell : "")}\n")));
    }
}
