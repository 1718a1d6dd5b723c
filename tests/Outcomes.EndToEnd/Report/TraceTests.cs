using System.Globalization;
using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Monitor traces from file to report, through the tool as its user runs it.</summary>
public sealed class TraceTests : IDisposable
{
    private readonly Workspace _workspace = new();

    [Fact]
    public async Task The_demonstrations_traces_give_the_truth_they_were_made_with()
    {
        Assert.Equal(0, (await ToolProcess.Run(_workspace.Folder, "synthesise", "--out", "d", "--seed", "5", "--procedures", "600")).Exit);
        using var truth = JsonDocument.Parse(File.ReadAllText(_workspace["d", "truth.json"]));
        var traces = truth.RootElement.GetProperty("traces");
        var result = await ToolProcess.Run(_workspace.Folder, "query", "d/pipeline.yaml", "--format", "csv",
            "SELECT count(trace_spo2_status), count(*) FILTER (trace_spo2_status = 'low_coverage'), sum(trace_spo2_lt90_s)::BIGINT, "
            + "count(*) FILTER (trace_spo2_status = 'sufficient' AND abs(lowest_spo2 - trace_spo2_min_sustained) > 0) FROM records");
        Assert.True(result.Exit == 0, result.ToString());
        Assert.Equal(
            string.Join(',', traces.GetProperty("records").GetInt32(), traces.GetProperty("low_coverage").GetInt32(),
                traces.GetProperty("seconds_below_90").GetInt64(), 0),
            result.Output.Trim().Split('\n')[^1].Trim());
        // Recorded or sampled, a saturation was made once: the lowest sustained one is the recorded one, wherever it was recorded.
        var lowest = await ToolProcess.Run(_workspace.Folder, "query", "d/pipeline.yaml", "--format", "csv",
            "SELECT count(*) FROM records WHERE spo2_min <> trace_spo2_min_sustained");
        Assert.Equal("0", lowest.Output.Trim().Split('\n')[^1].Trim());
    }

    [Fact]
    public async Task Samples_reconcile_and_the_report_says_how_many_records_have_a_trace()
    {
        Small("a,0,98\na,10,85\na,20,84\na,30,97\na,40,97\nb,0,97\nz,0,97\nb,x,97\n");
        var run = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(run.Exit == 0, run.ToString());
        Assert.Equal(
            ["records.csv,2,a,accepted,,1", "records.csv,3,b,accepted,,1",
                "traces.csv,2,a,accepted,,5", "traces.csv,9,b,quarantined,not_number,1", "traces.csv,7,b,accepted,,1",
                "traces.csv,8,z,quarantined,trace_without_record,1"],
            File.ReadAllLines(_workspace["out", "tables", "ledger.csv"]).Skip(1));
        using var manifest = JsonDocument.Parse(File.ReadAllText(_workspace["out", "run.json"]));
        var sums = manifest.RootElement.GetProperty("reconciliation").EnumerateArray()
            .Single(file => file.GetProperty("file").GetString() == "traces.csv");
        Assert.Equal((8, 6, 2),
            (sums.GetProperty("rows_in").GetInt32(), sums.GetProperty("accepted").GetInt32(), sums.GetProperty("quarantined").GetInt32()));
        Assert.Contains("2 of 2 records of the last 12 months have a monitor trace.", File.ReadAllText(_workspace["out", "appendix.html"]),
            StringComparison.Ordinal);
        // The recorded 92 and the sampled 85 differ by more than 3 points: a finding, and the figure is the trace's.
        Assert.Contains(File.ReadAllLines(_workspace["out", "tables", "findings.csv"]),
            line => line.StartsWith("spo2_min_not_trace,warn,records.csv,2,", StringComparison.Ordinal));
        Assert.Contains("lowest_saturation,2026-03,all,all,85,1", File.ReadAllLines(_workspace["out", "tables", "values.csv"]));
        Assert.Contains("seconds_below_90,2026-03,all,all,20,1", File.ReadAllLines(_workspace["out", "tables", "values.csv"]));
        Assert.Contains("hypoxaemia_burden,2026-03,all,all,110,1", File.ReadAllLines(_workspace["out", "tables", "values.csv"]));

        var check = await ToolProcess.Run(_workspace.Folder, "check", "pipeline.yaml");
        Assert.Contains("Traces: 2 of 2 records of the last 12 months have one. Covering enough of the window: 1 for SpO2, "
            + "0 for systolic pressure, 0 for mean pressure.", check.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_second_run_makes_the_same_bytes_and_more_quarantined_samples_than_tolerated_stop_it()
    {
        Small("a,0,98\na,10,85\na,20,84\na,30,97\n");
        Assert.Equal(0, (await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "one", "--charts", "none")).Exit);
        Assert.Equal(0, (await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "two", "--charts", "none")).Exit);
        foreach (var file in Directory.GetFiles(_workspace["one"], "*.*", SearchOption.AllDirectories)
            .Where(path => Path.GetFileName(path) != "run.json"))
            Assert.Equal(File.ReadAllBytes(file),
                File.ReadAllBytes(Path.Combine(_workspace["two"], Path.GetRelativePath(_workspace["one"], file))));
        Small("a,0,98\na,10,85\nz,20,84\n");
        Assert.Equal(4, (await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "three", "--charts", "none")).Exit);
    }

    [Fact]
    public async Task A_file_with_clock_times_is_refused_by_rule_column_and_line_and_never_by_value()
    {
        Small("a,14:05:00,98\n");
        var run = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.Equal(4, run.Exit);
        Assert.Contains("traces.csv:2: column 2", run.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("14:05", run.Error + run.Output + File.ReadAllText(_workspace["out", "tables", "findings.csv"]),
            StringComparison.Ordinal);
    }

    public void Dispose() => _workspace.Dispose();

    // Two records without a time of the tube: the window of a trace ends with its last row.
    private void Small(string samples)
    {
        _workspace.Write("records.csv",
            "id,date,urgency,age,arrest,low\na,2026-03-02,emergency,60,no,92\nb,2026-03-03,emergency,60,no,97\n");
        _workspace.Write("traces.csv", "id,t,spo2\n" + samples);
        _workspace.Write("records.yaml",
            "columns: {record_id: id, event_date: date, urgency: urgency, age_years: age, cardiac_arrest_before: arrest, spo2_min: low}\n");
        _workspace.Write("traces.yaml", "table: {rows: samples}\ncolumns: {record_id: id, t_s: t, spo2: spo2}\n");
        _workspace.Write("pipeline.yaml",
            string.Create(CultureInfo.InvariantCulture, $"name: small\nas_of: 2026-03-31\nsources:\n  records: {{file: records.csv, "
                + $"mapping: records.yaml}}\n  traces: {{file: traces.csv, mapping: traces.yaml}}\nbaseline: all\ntolerance: {0.3}\n"));
    }
}
