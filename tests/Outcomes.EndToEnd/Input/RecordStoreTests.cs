using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>The record store when a disk, an interrupted command or a person has had a hand in it.</summary>
public sealed class RecordStoreTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_damaged_file_of_the_store_is_read_again_with_a_message_and_the_figures_are_the_same()
    {
        Assert.Equal(0, (await Run("one")).Exit);
        var rows = Directory.GetFiles(_workspace[".outcomes", "tiny"], "rows-0.parquet", SearchOption.AllDirectories).Single();
        var bytes = File.ReadAllBytes(rows);
        bytes[bytes.Length / 2] ^= 1;
        File.WriteAllBytes(rows, bytes);

        var again = await Run("two");
        Assert.Equal(0, again.Exit);
        Assert.Contains("the copy of rows.csv in the record store was damaged, so the file has been read again", again.Error,
            StringComparison.Ordinal);
        Assert.Equal(_workspace.Read("one", "tables", "counts.csv"), _workspace.Read("two", "tables", "counts.csv"));
        Assert.DoesNotContain("damaged", (await Run("three")).Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("check")]
    [InlineData("query")]
    public async Task What_an_interrupted_read_left_is_gone_after_the_next_command(string command)
    {
        _workspace.Write(".outcomes/tiny/new-half/rows-0.parquet", "half");
        string[] more = command == "query" ? ["SELECT 1"] : [];
        Assert.Equal(0, (await ToolProcess.Run(_workspace.Folder, [command, "pipeline.yaml", .. more])).Exit);
        Assert.Empty(Directory.GetDirectories(_workspace[".outcomes", "tiny"], "new-*"));
    }

    [Fact]
    public async Task A_store_that_is_deleted_under_a_run_is_never_called_a_bug()
    {
        const int times = 12;
        var watch = System.Diagnostics.Stopwatch.StartNew();
        Assert.Equal(0, (await Run("out")).Exit);
        var whole = watch.Elapsed;
        var stopped = 0;
        for (var i = 0; i < times; i++)
        {
            _workspace.Write("rows.csv", TinyPipeline.Rows + $"r{i + 10},2026-01-29,icu,1,yes\n");
            var run = Run("out");
            await Task.Delay(whole * ((i + 0.5) / times), TestContext.Current.CancellationToken);
            Delete(_workspace[".outcomes"]);
            var result = await run;
            Assert.True(result.Exit is 0 or 5, result.ToString());
            stopped += result.Exit == 5 ? 1 : 0;
            Assert.True(result.Exit == 0 || result.Error.Contains("run it again", StringComparison.Ordinal)
                || result.Error.Contains("correct it and run again", StringComparison.Ordinal), result.Error);
        }

        Assert.True(stopped > 0, "no run lost its store");
        Assert.Equal(0, (await Run("out")).Exit);
    }

    // The run makes files while it is deleted under it: what cannot go now may stay.
    private static void Delete(string folder)
    {
        try
        {
            Directory.Delete(folder, recursive: true);
        }
        catch (IOException)
        {
        }
    }

    private Task<ToolResult> Run(string output) =>
        ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", output, "--charts", "none");
}
