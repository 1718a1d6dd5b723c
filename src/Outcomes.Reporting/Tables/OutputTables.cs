using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The tables of a run: their files' columns are a stable contract. Rows are written in the order given.</summary>
public static class OutputTables
{
    public static readonly ImmutableArray<string> CountsColumns =
        ["measure", "period", "stratum", "level", "met", "eligible", "missing"];

    public static readonly ImmutableArray<string> ValuesColumns = ["measure", "period", "stratum", "level", "value", "n"];

    public static readonly ImmutableArray<string> EstimatesColumns =
    [
        "measure", "period", "stratum", "level", "value", "lower", "upper", "level_pct", "method", "met", "eligible", "missing",
    ];

    public static readonly ImmutableArray<string> RunChartsColumns =
    [
        "measure", "stratum", "level", "from", "to", "median", "points", "useful", "longest_run", "run_limit", "crossings",
        "crossings_limit", "tested",
    ];

    public static readonly ImmutableArray<string> SignalsColumns =
        ["measure", "stratum", "level", "rule", "from", "to", "false_alarm", "source"];

    public static readonly ImmutableArray<string> ChangeOddsColumns =
        [
            "measure", "period", "part", "met", "eligible", "missing", "log_odds", "limit", "state", "expected", "log_odds_given_case_mix",
            "state_given_case_mix"
        ];

    public static readonly ImmutableArray<string> CaptureColumns =
        ["period", "site", "records", "counted", "months_counted", "value", "lower", "upper", "level_pct", "method", "source"];

    public static readonly ImmutableArray<string> FindingsColumns =
        ["rule", "severity", "file", "line", "column", "record_id", "explanation"];

    public static readonly ImmutableArray<string> LedgerColumns = ["file", "line", "record_id", "fate", "rule", "rows"];

    public static void Counts(string path, IEnumerable<CountsRow> rows) => TableWriter.ToFile(path, CountsColumns, table =>
    {
        foreach (var row in rows)
        {
            table.Text(row.Measure).Text(row.Period).Text(row.Stratum).Text(row.Level);
            Counts(table, row.Count).End();
        }
    });

    public static void Values(string path, IEnumerable<ValuesRow> rows) => TableWriter.ToFile(path, ValuesColumns, table =>
    {
        foreach (var row in rows)
            table.Text(row.Measure).Text(row.Period).Text(row.Stratum).Text(row.Level).Integer(row.Value).Integer(row.N).End();
    });

    public static void Estimates(string path, IEnumerable<EstimatesRow> rows) => TableWriter.ToFile(path, EstimatesColumns, table =>
    {
        foreach (var row in rows)
        {
            var estimate = row.Estimate;
            table.Text(row.Measure).Text(row.Period).Text(row.Stratum).Text(row.Level)
                .Number(estimate?.Value).Number(estimate?.Lower).Number(estimate?.Upper)
                .Number(estimate?.Level * 100).Text(estimate?.Method);
            Counts(table, row.Count).End();
        }
    });

    public static void RunCharts(string path, IEnumerable<RunChartsRow> rows) => TableWriter.ToFile(path, RunChartsColumns, table =>
    {
        foreach (var (measure, stratum, level, from, to, chart) in rows)
            table.Text(measure).Text(stratum).Text(level).Text(from.ToString()).Text(to.ToString()).Number(chart.Median)
                .Integer(chart.Points.Count(point => point.Value is not null)).Integer(chart.Useful)
                .Integer(chart.LongestRun).Integer(chart.RunLimit).Integer(chart.Crossings).Integer(chart.CrossingsLimit)
                .YesNo(chart.Untested == Untested.No).End();
    });

    public static void Signals(string path, IEnumerable<SignalsRow> rows) => TableWriter.ToFile(path, SignalsColumns, table =>
    {
        foreach (var row in rows)
            table.Text(row.Measure).Text(row.Stratum).Text(row.Level).Text(row.Rule).Text(row.From.ToString())
                .Text(row.To.ToString()).Number(row.FalseAlarm).Text(row.Source).End();
    });

    public static void ChangeOdds(string path, IEnumerable<ChangeOddsRow> rows) => TableWriter.ToFile(path, ChangeOddsColumns, table =>
    {
        foreach (var row in rows)
            Counts(table.Text(row.Measure).Text(row.Period).Text(row.Part), row.Count).Number(row.LogOdds).Number(row.Limit).Text(row.State)
                .Number(row.Expected).Number(row.LogOddsGivenMix).Text(row.StateGivenMix).End();
    });

    /// <summary>Records against independent counts; without any procedure counted the ratio's cells are empty.</summary>
    public static void Capture(string path, IEnumerable<CaptureRatio> rows) => TableWriter.ToFile(path, CaptureColumns, table =>
    {
        foreach (var row in rows)
        {
            var interval = row.Interval;
            table.Text(row.From == row.To ? row.From.ToString() : $"{row.From}/{row.To}").Text(row.Site.Length == 0 ? "all" : row.Site)
                .Integer(row.Records).Integer(row.Counted).Integer(row.MonthsCounted)
                .Number(row.Value).Number(interval?.Lower).Number(interval?.Upper)
                .Number(interval is null ? null : 95).Text(interval is null ? null : ExactPoisson.Method).Text(row.Source).End();
        }
    });

    public static void Findings(string path, IEnumerable<Finding> rows) => TableWriter.ToFile(path, FindingsColumns, table =>
    {
        foreach (var row in rows)
        {
            table.Text(row.Rule).Text(Word(row.Severity)).Text(row.File);
            // Line 0 means the whole file: no line.
            (row.Line > 0 ? table.Integer(row.Line) : table.Empty()).Text(row.Column).Text(row.RecordId).Text(row.Explanation).End();
        }
    });

    /// <summary>The key of the case pack, which leads back to the notes: for the department alone.</summary>
    public static readonly ImmutableArray<string> CaseKeyColumns = ["case_id", "record_id", "kind"];

    public static void CaseKey(string path, IEnumerable<(string CaseId, string RecordId, CaseKind Kind)> rows) =>
        TableWriter.ToFile(path, CaseKeyColumns, table =>
        {
            foreach (var (caseId, recordId, kind) in rows)
                table.Text(caseId).Text(recordId).Text(CaseKinds.Word(kind)).End();
        });

    /// <summary>
    /// The ledger; a caller with a million rows writes each through
    /// <see cref="LedgerRow(TableWriter, string, int, ReadOnlySpan{byte}, Fate, string, long)"/> itself.
    /// </summary>
    public static void Ledger(string path, Action<TableWriter> rows) => TableWriter.ToFile(path, LedgerColumns, rows);

    /// <summary>
    /// One row of the ledger: file, line (0 for the whole file), key as UTF-8, fate, the rule that decided it where one did, and the number
    /// of rows: 1 but for samples of a trace.
    /// </summary>
    public static void LedgerRow(
        TableWriter table, string file, int line, ReadOnlySpan<byte> recordId, Fate fate, string rule, long rows = 1)
    {
        ArgumentNullException.ThrowIfNull(table);
        table.Text(file);
        (line > 0 ? table.Integer(line) : table.Empty()).Text(recordId).Text(Word(fate)).Text(rule).Integer(rows).End();
    }

    /// <summary>Quarantined rows; after the first three columns come the row's own, under the headings of their file.</summary>
    public static void Quarantine(string path, ImmutableArray<string> headings, IEnumerable<QuarantineRow> rows) =>
        TableWriter.ToFile(path, ["origin", "line", "reasons", .. headings], table =>
        {
            foreach (var row in rows)
            {
                table.Text(row.Origin).Integer(row.Line).Text(row.Reasons);
                foreach (var cell in row.Cells)
                    table.Text(cell);
                table.End();
            }
        });

    private static TableWriter Counts(TableWriter table, Count count) =>
        table.Integer(count.Met).Integer(count.Eligible).Integer(count.Missing);

    private static string Word(Severity severity) => severity switch
    {
        Severity.Refuse => "refuse",
        Severity.Blank => "blank",
        _ => "warn",
    };

    private static string Word(Fate fate) => fate switch
    {
        Fate.Accepted => "accepted",
        Fate.Superseded => "superseded",
        Fate.Withdrawn => "withdrawn",
        Fate.Quarantined => "quarantined",
        _ => "refused",
    };
}
