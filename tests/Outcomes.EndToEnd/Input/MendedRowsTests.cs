using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Quarantined rows, mended by hand and fed back. Expected ledgers are worked by hand from the design's rules.</summary>
public sealed class MendedRowsTests : IDisposable
{
    private const string Mended = "mapping: mapping.yaml, mended: mended.csv}";

    private readonly Workspace _workspace = TinyPipeline.Create();

    public MendedRowsTests() =>
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("tolerance: 0.2", "tolerance: 0.5", StringComparison.Ordinal));

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_mended_row_takes_the_place_of_its_origin()
    {
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r7,31 of January,icu,1,yes\n");
        await Run();
        var quarantine = _workspace.Read("out", "tables", "quarantine.csv");
        Assert.Equal("origin,line,reasons,id,day,place,attempts,first\nrows.csv,8,not_date,r7,31 of January,icu,1,yes\n", quarantine);

        await FeedBack(quarantine.Replace("31 of January", "2026-01-31", StringComparison.Ordinal));
        Assert.Equal(["rows.csv:8 r7 superseded mended", "mended.csv:2 r7 accepted"],
            Ledger().Where(row => row.Contains("r7", StringComparison.Ordinal)));
        Assert.Equal("4/6+1", January());
        Assert.Empty(CsvTable.Read(_workspace["out"], "tables", "quarantine.csv").Rows);
        Assert.Empty(CsvTable.Read(_workspace["out"], "tables", "findings.csv").Rows);
    }

    [Fact]
    public async Task An_unmended_file_fed_back_changes_nothing()
    {
        // A bad date, a key that is missing, a row that lacks a cell, and one whose text a spreadsheet would run.
        _workspace.Write("rows.csv",
            TinyPipeline.Rows + "r7,31 of January,icu,1,yes\n,2026-01-30,icu,1,no\nr8,2026-01-30,icu,1\nr9,=1+1,'=x,1,yes\n");
        await Run();
        var quarantine = _workspace.Read("out", "tables", "quarantine.csv");
        Assert.Contains("r9,'=1+1,''=x,1,yes", quarantine, StringComparison.Ordinal);
        var (january, total) = (January(), Total());

        await FeedBack(quarantine);
        Assert.Equal(quarantine, _workspace.Read("out", "tables", "quarantine.csv"));
        Assert.Equal(january, January());
        Assert.Equal((total.Accepted, total.Quarantined), (Total().Accepted, Total().Quarantined));
        Assert.Equal(4, Total().Superseded);
    }

    [Fact]
    public async Task The_guard_comes_off_exactly_once()
    {
        _workspace.Write("mapping.yaml",
            TinyPipeline.Mapping.Replace("{column: place}", "{column: place, codes: {'-': icu, \"'-\": ed}}", StringComparison.Ordinal));
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r7,soon,-,1,yes\nr8,soon,'-,1,yes\n");
        await Run();
        await FeedBack(_workspace.Read("out", "tables", "quarantine.csv").Replace("soon", "2026-01-31", StringComparison.Ordinal));
        var counts = CsvTable.Read(_workspace["out"], "tables", "counts.csv").Rows.Where(row => row["period"] == "2026-01")
            .ToDictionary(row => row["level"], row => row["met"]);
        Assert.Equal(("2", "3"), (counts["icu"], counts["ed"]));
    }

    [Fact]
    public async Task A_later_export_still_corrects_a_mended_row()
    {
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r7,soon,icu,1,yes\n");
        await Run();
        _workspace.Write("later.csv", "id,day,place,attempts,first\nr7,2026-01-30,icu,2,no\n");
        await FeedBack(_workspace.Read("out", "tables", "quarantine.csv").Replace("soon", "2026-01-31", StringComparison.Ordinal),
            "  later: {file: later.csv, mapping: mapping.yaml}\n");
        Assert.Equal(["rows.csv:8 r7 superseded mended", "mended.csv:2 r7 superseded corrected", "later.csv:2 r7 accepted"],
            Ledger().Where(row => row.Contains("r7", StringComparison.Ordinal)));
        Assert.Equal("3/6+1", January());
    }

    [Fact]
    public async Task A_mended_row_whose_export_was_written_anew_yields_to_it()
    {
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r7,soon,icu,1,yes\nr8,soon,icu,1,yes\n");
        await Run();
        var mended = _workspace.Read("out", "tables", "quarantine.csv").Replace("soon", "2026-01-31", StringComparison.Ordinal);

        // The new export has r7 right, with another answer, and r8 no longer: the mended r8 still counts, the mended r7 does not.
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r0,2026-01-03,icu,1,yes\nr7,2026-01-29,icu,2,no\n");
        await FeedBack(mended);
        Assert.Equal(["rows.csv:9 r7 accepted", "mended.csv:2 r7 superseded corrected"],
            Ledger().Where(row => row.Contains("r7", StringComparison.Ordinal)));
        Assert.Contains("rows.csv:8 r0 accepted", Ledger());
        Assert.Contains("mended.csv:3 r8 accepted", Ledger());
        Assert.Equal(["origin_not_held", "origin_not_held"], CsvTable.Read(_workspace["out"], "tables", "findings.csv").Rows
            .Select(row => row["rule"]));
    }

    [Fact]
    public async Task Rows_of_another_sources_file_lie_outside_the_table()
    {
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r7,soon,icu,1,yes\n");
        _workspace.Write("other.csv", "id,day,place,attempts,first\nq1,2026-01-08,ed,1,no\nq2,soon,ed,1,yes\n");
        const string other = "  other: {file: other.csv, mapping: mapping.yaml, mended: mended.csv}\n";
        _workspace.Write("pipeline.yaml",
            Pipeline("mapping: mapping.yaml}", other.Replace(", mended: mended.csv", "", StringComparison.Ordinal)));
        await Run();
        await FeedBack(_workspace.Read("out", "tables", "quarantine.csv").Replace("soon", "2026-01-31", StringComparison.Ordinal), other);
        Assert.Equal(["mended.csv:2 r7 accepted", "mended.csv:3 q2 accepted"],
            Ledger().Where(row => row.StartsWith("mended.csv", StringComparison.Ordinal)));
        Assert.Equal("5/8+1", January());
    }

    [Fact]
    public async Task A_repeated_key_is_mended_by_another_key_where_the_first_row_counts()
    {
        var first = "duplicates: first\n";
        _workspace.Write("rows.csv", TinyPipeline.Rows + "r3,2026-01-30,ward,1,no\n");
        _workspace.Write("pipeline.yaml", Pipeline("mapping: mapping.yaml}", "") + first);
        await Run();
        _workspace.Write("mended.csv", _workspace.Read("out", "tables", "quarantine.csv").Replace("r3", "r7", StringComparison.Ordinal));
        _workspace.Write("pipeline.yaml", Pipeline(Mended, "") + first);
        await Run();
        Assert.Equal(["rows.csv:8 r3 superseded mended", "mended.csv:2 r7 accepted"], Ledger().Skip(6));
    }

    [Fact]
    public async Task A_row_of_an_origin_that_the_pipeline_does_not_know_refuses_the_file()
    {
        _workspace.Write("pipeline.yaml", Pipeline(Mended, ""));
        _workspace.Write("mended.csv",
            "origin,line,reasons,id,day,place,attempts,first\nelsewhere.csv,8,not_date,r7,2026-01-31,icu,1,yes\n");
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out");
        Assert.True(result.Exit == 4, result.ToString());
        Assert.Contains("mended.csv:2", result.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("elsewhere.csv", result.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_without_the_three_columns_is_no_mended_file()
    {
        _workspace.Write("pipeline.yaml", Pipeline(Mended, ""));
        _workspace.Write("mended.csv", TinyPipeline.Rows);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out");
        Assert.True(result.Exit == 4, result.ToString());
        Assert.Contains("origin, line, reasons", result.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_source_in_the_output_folder_is_refused_before_it_is_replaced()
    {
        await Run();
        _workspace.Write("pipeline.yaml", Pipeline("mapping: mapping.yaml, mended: out/tables/quarantine.csv}", ""));
        var before = _workspace.Read("out", "tables", "quarantine.csv");
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out");
        Assert.True(result.Exit == 2, result.ToString());
        Assert.Equal(before, _workspace.Read("out", "tables", "quarantine.csv"));
    }

    [Fact]
    public async Task A_mended_attempt_joins_the_attempts_of_its_file()
    {
        _workspace.Write("attempts.yaml",
            "table: {rows: attempts}\ncolumns:\n  record_id: {column: id}\n  attempt_no: {column: number}\n  outcome: {column: outcome}\n");
        _workspace.Write("attempts.csv", "id,number,outcome\nr2,1,failed_no_view\nr2,two,success\nr1,1,success\n");
        const string attempts = "  attempts: {file: attempts.csv, mapping: attempts.yaml}\n";
        _workspace.Write("pipeline.yaml", Pipeline("mapping: mapping.yaml}", attempts));
        await Run();
        _workspace.Write("mended.csv", _workspace.Read("out", "tables", "quarantine.csv").Replace("two", "2", StringComparison.Ordinal));
        _workspace.Write("pipeline.yaml",
            Pipeline("mapping: mapping.yaml}", attempts.Replace("}", ", mended: mended.csv}", StringComparison.Ordinal)));
        await Run();
        Assert.Equal(["attempts.csv:2 r2 accepted", "attempts.csv:3 r2 superseded mended", "attempts.csv:4 r1 accepted",
            "mended.csv:2 r2 accepted"],
            Ledger().Where(row => !row.StartsWith("rows.csv", StringComparison.Ordinal)));
    }

    private async Task FeedBack(string mended, string more = "")
    {
        _workspace.Write("mended.csv", mended);
        _workspace.Write("pipeline.yaml", Pipeline(Mended, more));
        await Run();
    }

    private static string Pipeline(string source, string more) =>
        TinyPipeline.Pipeline.Replace("tolerance: 0.2", "tolerance: 0.5", StringComparison.Ordinal)
            .Replace("mapping: mapping.yaml}\n", source + "\n" + more, StringComparison.Ordinal);

    private async Task Run()
    {
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());
    }

    private string[] Ledger() => Reconciled.Ledger(_workspace["out"]);

    private (int Accepted, int Superseded, int Quarantined) Total() => Reconciled.Total(_workspace["out"]);

    private string January() => Reconciled.January(_workspace["out"]);
}
