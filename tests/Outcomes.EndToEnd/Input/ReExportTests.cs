using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// What hospitals send a second time: corrections, longer files, deletions, attempts that follow. Ledgers worked by hand from
/// the design's rules.
/// </summary>
public sealed class ReExportTests : IDisposable
{
    private const string Heading = "id,day,place,attempts,first\n";

    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_record_corrected_in_a_later_file_counts_once_as_corrected()
    {
        _workspace.Write("later.csv", Heading + "r2,2026-01-05,icu,1,yes\nr7,2026-01-30,icu,1,yes\n");
        await Run("later.csv");
        Assert.Equal(["rows.csv:3 r2 superseded corrected", "later.csv:2 r2 accepted"], Of("r2"));
        Assert.Equal("5/6+1", Reconciled.January(_workspace["out"]));
    }

    [Fact]
    public async Task A_file_exported_again_with_three_rows_more_counts_nothing_twice()
    {
        const string more = "r7,2026-01-29,icu,1,yes\nr8,2026-01-30,ed,1,no\nr9,2026-01-31,ed,1,yes\n";
        _workspace.Write("again.csv", TinyPipeline.Rows + more);
        await Run("again.csv");
        Assert.Equal((9, 6, 0), Reconciled.Total(_workspace["out"]));
        Assert.Equal("5/8+1", Reconciled.January(_workspace["out"]));

        // The same file grown in place gives the same figures.
        using var grown = TinyPipeline.Create();
        grown.Write("rows.csv", TinyPipeline.Rows);
        Assert.Equal(0, (await Tool(grown)).Exit);
        grown.Write("rows.csv", TinyPipeline.Rows + more);
        Assert.Equal(0, (await Tool(grown)).Exit);
        Assert.Equal(_workspace.Read("out", "tables", "counts.csv"), grown.Read("out", "tables", "counts.csv"));
    }

    [Fact]
    public async Task A_row_whose_status_says_deleted_withdraws_its_key()
    {
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping + "status: {column: status, deleted: [removed]}\n");
        _workspace.Write("rows.csv", string.Join('\n', TinyPipeline.Rows.TrimEnd('\n').Split('\n')
            .Select((line, i) => line + (i == 0 ? ",status" : ",kept"))) + "\n");
        _workspace.Write("later.csv", Heading.TrimEnd('\n') + ",status\nr1,2026-01-02,icu,1,yes,removed\n");
        await Run("later.csv");
        Assert.Equal(["rows.csv:2 r1 withdrawn deleted", "later.csv:2 r1 withdrawn deleted"], Of("r1"));
        Assert.Equal("2/4+1", Reconciled.January(_workspace["out"]));
    }

    [Fact]
    public async Task A_correction_that_is_refused_leaves_the_last_good_version()
    {
        _workspace.Write("later.csv", Heading + "r2,2026-02-30,icu,1,yes\n");
        await Run("later.csv");
        Assert.Equal(["rows.csv:3 r2 accepted", "later.csv:2 r2 quarantined not_date"], Of("r2"));
        Assert.Equal("3/5+1", Reconciled.January(_workspace["out"]));
    }

    [Fact]
    public async Task Attempts_that_arrive_later_join_their_records_and_a_newer_file_replaces_them()
    {
        _workspace.Write("attempts.yaml",
            "table: {rows: attempts}\ncolumns:\n  record_id: {column: id}\n  attempt_no: {column: number}\n  outcome: {column: outcome}\n");
        _workspace.Write("attempts1.csv", "id,number,outcome\nr1,1,success\nr2,1,failed_no_view\nr2,2,success\nr9,1,success\n");
        _workspace.Write("attempts2.csv", "id,number,outcome\nr2,1,success\n");
        Sources("  a1: {file: attempts1.csv, mapping: attempts.yaml}\n  a2: {file: attempts2.csv, mapping: attempts.yaml}\n");
        await Run();
        Assert.Equal(
            [
                "attempts1.csv:2 r1 accepted", "attempts1.csv:3 r2 superseded corrected", "attempts1.csv:4 r2 superseded corrected",
                "attempts1.csv:5 r9 quarantined attempt_without_record", "attempts2.csv:2 r2 accepted",
            ],
            Reconciled.Ledger(_workspace["out"]).Where(row => row.StartsWith("attempts", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_record_deleted_in_one_file_and_sent_again_in_the_next_counts()
    {
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping + "status: {column: status, deleted: [removed]}\n");
        _workspace.Write("rows.csv", string.Join('\n', TinyPipeline.Rows.TrimEnd('\n').Split('\n')
            .Select((line, i) => line + (i == 0 ? ",status" : ",kept"))) + "\n");
        _workspace.Write("second.csv", Heading.TrimEnd('\n') + ",status\nr1,2026-01-02,icu,1,yes,removed\n");
        _workspace.Write("third.csv", Heading.TrimEnd('\n') + ",status\nr1,2026-01-03,icu,2,no,kept\n");
        Sources("  second: {file: second.csv, mapping: mapping.yaml}\n  third: {file: third.csv, mapping: mapping.yaml}\n");
        await Run();
        Assert.Equal(["rows.csv:2 r1 superseded corrected", "second.csv:2 r1 superseded corrected", "third.csv:2 r1 accepted"], Of("r1"));
        Assert.Equal("2/5+1", Reconciled.January(_workspace["out"]));
    }

    [Fact]
    public async Task Where_the_first_row_counts_a_later_file_s_repeat_is_held_even_if_the_first_is_bad()
    {
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r7,soon,icu,1,yes\n");
        _workspace.Write("later.csv", Heading + "r2,2026-01-05,icu,1,yes\nr7,2026-01-30,icu,1,yes\n");
        _workspace.Write("pipeline.yaml",
            TinyPipeline.Pipeline.Replace("tolerance: 0.2", "tolerance: 0.5\nduplicates: first", StringComparison.Ordinal)
                .Replace("mapping.yaml}\n", "mapping.yaml}\n  later: {file: later.csv, mapping: mapping.yaml}\n",
                    StringComparison.Ordinal));
        await Run();
        Assert.Equal(["rows.csv:3 r2 accepted", "later.csv:2 r2 quarantined duplicate"], Of("r2"));
        Assert.Equal(["rows.csv:8 r7 quarantined not_date", "later.csv:3 r7 quarantined duplicate"], Of("r7"));
        Assert.Equal("3/5+1", Reconciled.January(_workspace["out"]));
    }

    [Fact]
    public async Task A_file_of_attempts_that_arrives_a_month_later_is_read_then()
    {
        await Run();
        Assert.Equal(6, Reconciled.Ledger(_workspace["out"]).Length);
        _workspace.Write("attempts.yaml",
            "table: {rows: attempts}\ncolumns:\n  record_id: {column: id}\n  attempt_no: {column: number}\n  outcome: {column: outcome}\n");
        _workspace.Write("attempts.csv", "id,number,outcome\nr1,1,success\nr2,1,failed_no_view\nr2,2,success\n");
        Sources("  attempts: {file: attempts.csv, mapping: attempts.yaml}\n");
        await Run();
        Assert.Equal((9, 0, 0), Reconciled.Total(_workspace["out"]));
        Assert.Equal("3/5+1", Reconciled.January(_workspace["out"]));
    }

    [Fact]
    public async Task Unchanged_files_are_not_read_again()
    {
        _workspace.Write("later.csv", Heading + "r2,2026-01-05,icu,1,yes\n");
        await Run("later.csv");
        var before = Stored();
        Assert.Equal(2, before.Length);
        await Run("later.csv");
        Assert.Equal(before, Stored());

        // One changed byte reads that file anew and leaves the other's folder alone.
        _workspace.Write("later.csv", Heading + "r2,2026-01-05,icu,3,yes\n");
        await Run("later.csv");
        Assert.Single(Stored().Intersect(before));
        Assert.Equal(2, Stored().Length);
    }

    private Task Run(string later)
    {
        Sources($"  later: {{file: {later}, mapping: mapping.yaml}}\n");
        return Run();
    }

    private void Sources(string more) =>
        _workspace.Write("pipeline.yaml",
            TinyPipeline.Pipeline.Replace("mapping.yaml}\n", "mapping.yaml}\n" + more, StringComparison.Ordinal));

    private async Task Run()
    {
        var result = await Tool(_workspace);
        Assert.True(result.Exit == 0, result.ToString());
    }

    private static Task<ToolResult> Tool(Workspace workspace) =>
        ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");

    private string[] Of(string key) => [.. Reconciled.Ledger(_workspace["out"]).Where(row => row.Split(' ')[1] == key)];

    // Each stored source by its folder and the moment at which it was written.
    private string[] Stored() =>
        [.. Directory.EnumerateFiles(_workspace[".outcomes"], "source.json", SearchOption.AllDirectories)
            .Select(file => $"{file} {File.GetLastWriteTimeUtc(file).Ticks}").Order(StringComparer.Ordinal)];
}
