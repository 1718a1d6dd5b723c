using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Six invented rows of two exports, with every reason for a missing cell planted once; and what the command refuses.
/// </summary>
public sealed class ExportReasonsTests : IDisposable
{
    private const string Pipeline = """
        name: tiny
        as_of: 2026-02-01
        sources:
          first: {file: first.csv, mapping: first.yaml}
          second: {file: second.csv, mapping: second.yaml}
        measures: [low.yaml]
        headline: [low]
        baseline: {from: 2026-01, months: 12}
        tolerance: 0.5

        """;

    private const string First = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          urgency: {column: urgency}
          age_years: {column: age}
          attempts_total: {column: attempts}
          sbp_pre: {column: before, missing: {"nr": not_recorded, "na": not_applicable, "?": unknown, "kept": withheld, "low": unrecordable}}
          sbp_min: {column: lowest}
          complication: {column: harm, split: ";", missing: {"nr": not_recorded}}

        """;

    private const string Rows = """
        id,day,urgency,age,attempts,before,lowest,harm
        a1,2026-01-05,emergency,60,1,120,100,aspiration;dental
        a2,2026-01-06,emergency,61,1,nr,90,nr
        a3,2026-01-07,emergency,62,1,na,91,none
        a4,2026-01-08,emergency,63,1,?,92,
        a5,2026-01-09,emergency,64,1,kept,93,none
        a6,2026-01-10,emergency,65,1,low,,none
        a7,2026-01-11,emergency,66,1,,94,none
        a8,2026-01-12,emergency,67,1,high,95,none

        """;

    private readonly Workspace _workspace = new();

    public ExportReasonsTests()
    {
        _workspace.Write("pipeline.yaml", Pipeline);
        _workspace.Write("first.yaml", First);
        _workspace.Write("first.csv", Rows);
        _workspace.Write("low.yaml", "{id: low, title: Low pressure, kind: proportion, eligible: age_years >= 18, met: sbp_pre < 90, "
            + "direction: down, why: Invented., source: Invented., examples: [{given: {age_years: 60, sbp_pre: 80}, expect: met}]}\n");
        _workspace.Write("second.yaml", "columns:\n  record_id: {column: id}\n  event_date: {column: day, date: yyyy-MM-dd}\n"
            + "  urgency: {column: urgency}\n  age_years: {column: age}\n");
        _workspace.Write("second.csv", "id,day,urgency,age\nb1,2026-01-13,emergency,68\n");
    }

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Every_reason_stands_beside_its_empty_cell_and_a_set_of_answers_has_one_reason()
    {
        var result = await ToolProcess.Run(_workspace.Folder, "export", "pipeline.yaml", "--out", "set");
        Assert.True(result.Exit == 0, result.ToString());
        var rows = Csv("procedure").Rows.ToDictionary(row => row["record_id"]);
        Assert.Equal(["120|", "|not_recorded", "|not_applicable", "|unknown", "|withheld", "|unrecordable", "|blank", "|invalid",
            "|not_collected"], rows.Values.Select(row => $"{row["sbp_pre"]}|{row["sbp_pre_missing"]}"));
        Assert.Equal(("yes", "no", ""), (rows["a1"]["complication_aspiration"], rows["a1"]["complication_awareness"],
            rows["a1"]["complication_missing"]));
        Assert.Equal(("", "not_recorded", "blank"), (rows["a2"]["complication_aspiration"], rows["a2"]["complication_missing"],
            rows["a4"]["complication_missing"]));
        Assert.DoesNotContain(Csv("procedure").Columns, column => column.StartsWith("map_pre", StringComparison.Ordinal));
        Assert.False(File.Exists(_workspace["set", "trace_summary.csv"]));
    }

    [Fact]
    public async Task A_missing_answer_says_why_and_a_source_that_cannot_answer_has_no_row()
    {
        Assert.Equal(0, (await ToolProcess.Run(_workspace.Folder, "export", "pipeline.yaml", "--out", "set")).Exit);
        var answers = Csv("measures").Rows.Where(row => row["measure"] == "low").ToDictionary(row => row["record_id"]);
        Assert.Equal(("yes", "no", "no", ""),
            (answers["a1"]["eligible"], answers["a1"]["met"], answers["a1"]["missing"], answers["a1"]["why"]));
        Assert.Equal(("", "", "yes"), (answers["a2"]["eligible"], answers["a2"]["met"], answers["a2"]["missing"]));
        Assert.Equal("sbp_pre: not_recorded", answers["a2"]["why"]);
        Assert.Equal("sbp_pre: invalid", answers["a8"]["why"]);
        // Too low to measure is below every threshold.
        Assert.Equal(("yes", "yes"), (answers["a6"]["eligible"], answers["a6"]["met"]));
        // "Not applicable" takes a record out of the denominator.
        Assert.Equal(("no", "", "no"), (answers["a3"]["eligible"], answers["a3"]["met"], answers["a3"]["missing"]));
        Assert.DoesNotContain("b1", answers.Keys);
    }

    [Fact]
    public async Task A_value_that_a_rule_set_aside_says_so()
    {
        _workspace.Write("rules.yaml", "- {id: too_high, expect: sbp_min <= 99, severity: blank, blanks: [sbp_min], why: Invented.}\n");
        _workspace.Write("pipeline.yaml", Pipeline + "consistency: [rules.yaml]\n");
        Assert.Equal(0, (await ToolProcess.Run(_workspace.Folder, "export", "pipeline.yaml", "--out", "set")).Exit);
        var rows = Csv("procedure").Rows.ToDictionary(row => row["record_id"]);
        Assert.Equal(("", "set_aside_by_rule"), (rows["a1"]["sbp_min"], rows["a1"]["sbp_min_missing"]));
    }

    [Theory]
    [InlineData("audience: network\n", 2, "`audience: network`")]
    [InlineData("audience: public\n", 2, "`audience: public`")]
    [InlineData("data: none\n", 2, "`data: none`")]
    public async Task A_pipeline_for_others_and_one_that_writes_no_records_are_refused(string line, int exit, string said)
    {
        _workspace.Write("pipeline.yaml", Pipeline + line);
        var result = await ToolProcess.Run(_workspace.Folder, "export", "pipeline.yaml", "--out", "set");
        Assert.Equal(exit, result.Exit);
        Assert.Contains(said, result.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_workspace["set"]));
    }

    [Fact]
    public async Task A_folder_that_holds_something_is_left_as_it_is_and_records_that_are_not_tolerated_are_not_written()
    {
        _workspace.Write("set/mine.txt", "mine");
        Assert.Equal(5, (await ToolProcess.Run(_workspace.Folder, "export", "pipeline.yaml", "--out", "set")).Exit);
        Assert.Equal(["mine.txt"], Workspace.FilesIn(_workspace["set"]));
        _workspace.Write("first.csv", Rows.Replace("2026-01-0", "2026-13-0", StringComparison.Ordinal));
        _workspace.Write("pipeline.yaml", Pipeline.Replace("0.5", "0.05", StringComparison.Ordinal));
        Assert.Equal(4, (await ToolProcess.Run(_workspace.Folder, "export", "pipeline.yaml", "--out", "other")).Exit);
        Assert.False(Directory.Exists(_workspace["other"]));
    }

    private CsvTable Csv(string name) => CsvTable.Read(_workspace["set", name + ".csv"]);
}
