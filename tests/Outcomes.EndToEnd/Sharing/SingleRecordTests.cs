using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Commands that print single records belong to the department: a pipeline for others gets none.</summary>
public sealed class SingleRecordTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Theory]
    [InlineData("network")]
    [InlineData("public")]
    public async Task A_pipeline_for_others_is_refused_by_query_and_review(string audience)
    {
        _workspace.Write("pipeline.yaml", $"{TinyPipeline.Pipeline}audience: {audience}\n");
        string[][] commands = [["query", "pipeline.yaml", "select * from records"], ["review", "pipeline.yaml", "--case", "ABC234"]];
        foreach (var command in commands)
        {
            var answer = await ToolProcess.Run(_workspace.Folder, command);
            Assert.Equal(2, answer.Exit);
            Assert.Equal("", answer.Output);
            Assert.Contains($"`audience: {audience}`", answer.Error, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_department_gets_its_records()
    {
        var answer = await ToolProcess.Run(_workspace.Folder, "query", "pipeline.yaml", "select record_id from records", "--format", "csv");
        Assert.Equal(0, answer.Exit);
        Assert.StartsWith("record_id\n", answer.Output.ReplaceLineEndings("\n"), StringComparison.Ordinal);
        Assert.True(answer.Output.Split('\n').Length > 3);
    }
}
