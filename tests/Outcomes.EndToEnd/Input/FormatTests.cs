using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Files as they are found, through the mapping file, the pipeline file and the command line.</summary>
public sealed class FormatTests : IDisposable
{
    private const string BadDay = "r2,2026-01-05,icu";

    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_pattern_reads_each_file_as_a_source_in_the_order_of_names_and_a_later_one_corrects()
    {
        Directory.CreateDirectory(_workspace["exports"]);
        File.WriteAllText(_workspace["exports", "2026-02.csv"],
            TinyPipeline.Rows.Replace("r2,2026-01-05,icu,2,no", "r2,2026-01-05,icu,1,yes", StringComparison.Ordinal));
        File.WriteAllText(_workspace["exports", "2026-01.csv"], TinyPipeline.Rows);
        File.WriteAllText(_workspace["exports", "~$2026-03.csv"], "a lock file");
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("rows.csv", "\"exports/*.csv\"", StringComparison.Ordinal));
        Assert.Equal(0, (await Run()).Exit);
        Assert.Equal(("4", "5"), January());
        var ledger = CsvTable.Read(_workspace["out"], "tables", "ledger.csv").Rows;
        Assert.All(ledger, row => Assert.Equal(row["file"] == "exports/2026-01.csv" ? "superseded" : "accepted", row["fate"]));
        Assert.Equal(12, ledger.Count());

        var none = await Run("--source", "procedures=" + _workspace["exports", "*.xlsx"]);
        Assert.Equal(4, none.Exit);
        Assert.Contains("no file matches", none.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_mapping_says_encoding_heading_row_and_decimal_comma_and_quarantine_gives_the_row_back()
    {
        var rows = TinyPipeline.Rows.Replace(BadDay, "r2,soon,Würfel", StringComparison.Ordinal).Replace(',', ';');
        File.WriteAllBytes(_workspace["rows.csv"], Encoding.Latin1.GetBytes("Airway records\n\n" + rows));
        _workspace.Write("mapping.yaml", "table: {encoding: windows-1252, header_row: 3, decimal: \",\"}\n" + TinyPipeline.Mapping);
        var result = await Run();
        Assert.True(result.Exit == 0, result.ToString());
        Assert.Equal(("3", "4"), January());
        var held = Assert.Single(CsvTable.Read(_workspace["out"], "tables", "quarantine.csv").Rows);
        Assert.Equal(("5", "soon", "Würfel"), (held["line"], held["day"], held["place"]));
        Assert.Contains("\"outside_rows\": 2", File.ReadAllText(_workspace["out", "run.json"]), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_workbook_is_read_and_its_merged_headings_are_a_finding()
    {
        File.Copy(Repository.InRoot("tests", "fixtures", "ingestion", "merged-headings.xlsx"), _workspace["rows.xlsx"]);
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("rows.csv", "rows.xlsx", StringComparison.Ordinal));
        _workspace.Write("mapping.yaml",
            "table: {header_row: 3}\ncolumns: {record_id: record_id, event_date: event_date, location_type: location_type}\n");
        var result = await Run();
        Assert.True(result.Exit == 0, result.ToString());
        var finding = Assert.Single(CsvTable.Read(_workspace["out"], "tables", "findings.csv").Rows);
        Assert.Equal(("merged_heading", "3", "spo2_min"), (finding["rule"], finding["line"], finding["column"]));
        Assert.Equal("4", Assert.Single(CsvTable.Read(_workspace["out"], "tables", "ledger.csv").Rows)["line"]);
    }

    private (string Met, string Eligible) January()
    {
        var row = Assert.Single(CsvTable.Read(_workspace["out"], "tables", "counts.csv").Rows,
            row => row["period"] == "2026-01" && row["stratum"] == "all");
        return (row["met"], row["eligible"]);
    }

    private Task<ToolResult> Run(params string[] more) =>
        ToolProcess.Run(_workspace.Folder, ["run", "pipeline.yaml", "--out", "out", "--charts", "none", .. more]);
}
