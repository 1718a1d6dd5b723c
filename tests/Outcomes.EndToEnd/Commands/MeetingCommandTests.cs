using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary><c>outcomes meeting</c>: where the page goes, and who does not get one.</summary>
public sealed class MeetingCommandTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task The_page_goes_beside_the_months_folder_where_a_run_leaves_it_and_never_over_another_file()
    {
        var first = await Meeting();
        Assert.True(first.Exit == 0, first.ToString());
        var page = _workspace["outcomes-out", "tiny", "meeting-2026-01.html"];
        Assert.Contains(Path.Combine("outcomes-out", "tiny", "meeting-2026-01.html"), first.Output, StringComparison.Ordinal);
        var bytes = await File.ReadAllBytesAsync(page, TestContext.Current.CancellationToken);
        Assert.Equal(0, (await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none")).Exit);
        Assert.Equal(0, (await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none")).Exit);
        var again = await Meeting();
        Assert.Equal(5, again.Exit);
        Assert.Contains("no file is ever overwritten", again.Error, StringComparison.Ordinal);
        Assert.Equal(bytes, await File.ReadAllBytesAsync(page, TestContext.Current.CancellationToken));
        // The same records give the same bytes.
        Assert.Equal(0, (await Meeting("--out", "again.html")).Exit);
        Assert.Equal(bytes, await File.ReadAllBytesAsync(_workspace["again.html"], TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task A_pipeline_for_others_gets_no_page_with_exit_2()
    {
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "audience: network\n");
        var result = await Meeting("--out", "meeting.html");
        Assert.Equal(2, result.Exit);
        Assert.Contains("audience: department", result.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(_workspace["meeting.html"]));
    }

    [Fact]
    public async Task Records_that_no_report_may_rest_on_get_no_page_with_exit_4()
    {
        _workspace.Write("rows.csv", "id,day,place,attempts,first\nr1,2026-01-02,icu,1,yes\nr2,wrong,icu,2,no\nr3,wrong,icu,2,no\n");
        var result = await Meeting("--out", "meeting.html");
        Assert.Equal(4, result.Exit);
        Assert.Contains("outcomes check", result.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(_workspace["meeting.html"]));
    }

    [Theory]
    [InlineData("--month", "2026-03")]
    [InlineData("--month", "March")]
    [InlineData("--as-of", "tomorrow")]
    public async Task A_wrong_month_or_date_is_exit_2(params string[] options) => Assert.Equal(2, (await Meeting(options)).Exit);

    private Task<ToolResult> Meeting(params string[] more) => ToolProcess.Run(_workspace.Folder, ["meeting", "pipeline.yaml", .. more]);
}
