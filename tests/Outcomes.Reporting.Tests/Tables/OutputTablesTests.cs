using Outcomes.Records;
using Outcomes.Reporting.Tables;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Tables;

/// <summary>The files' columns are the contract of the design's section on what a run writes.</summary>
public class OutputTablesTests
{
    [Fact]
    public void Counts() => Assert.Equal(
        "measure,period,stratum,level,met,eligible,missing\nfirst_pass,2026-03,all,all,10,12,1\n"
            + "first_pass,2025-04/2026-03,device,(missing),0,0,0\n",
        Written(path => CountsTable.Table.Write(path,
            [new("first_pass", "2026-03", "all", "all", new Count(10, 12, 1)),
                new("first_pass", "2025-04/2026-03", "device", "(missing)", default)])));

    [Fact]
    public void Values() => Assert.Equal(
        "measure,period,stratum,level,value,n\nlowest_saturation,2026-03,all,all,88,3\n",
        Written(path => ValuesTable.Table.Write(path, [new("lowest_saturation", "2026-03", "all", "all", 88, 3)])));

    [Fact]
    public void Estimates_are_fractions_and_empty_where_nothing_was_eligible() => Assert.Equal(
        "measure,period,stratum,level,value,lower,upper,level_pct,method,met,eligible,missing\n" +
        "m,2026-03,all,all,0.333333333333,0.0967,0.7,95,wilson,2,6,0\nm,2026-02,all,all,,,,,,0,0,4\n",
        Written(path => EstimatesTable.Table.Write(path,
        [
            new("m", "2026-03", "all", "all", new Count(2, 6, 0),
                new Estimate(1 / 3.0, 0.0967, 0.7, 0.95, "wilson", "", new Count(2, 6, 0))),
            new("m", "2026-02", "all", "all", new Count(0, 0, 4), null),
        ])));

    [Fact]
    public void Run_charts_count_their_points_without_the_gaps()
    {
        var model = Samples.Model();
        var written = Written(
            path => RunChartsTable.Table.Write(path,
                [new("first_pass", "all", "all", model.First, model.Last, model.Measures[0].RunChart!)]));
        Assert.StartsWith("measure,stratum,level,from,to,median,points,useful,longest_run,run_limit,crossings,crossings_limit,tested\n"
            + "first_pass,all,all,2023-04,2026-03,0.761904761905,35,", written, StringComparison.Ordinal);
        Assert.EndsWith(",15,8,12,13,yes\n", written, StringComparison.Ordinal);
    }

    [Fact]
    public void Signals() => Assert.Equal(
        "measure,stratum,level,rule,from,to,false_alarm,source\nm,all,all,longest_run,2025-01,2025-09,0.047,S 2014\n",
        Written(path => SignalsTable.Table.Write(path,
            [new("m", "all", "all", "longest_run", new Month(2025, 1), new Month(2025, 9), 0.047, "S 2014")])));

    [Fact]
    public void Findings_guard_text_that_a_spreadsheet_would_run() => Assert.Equal(
        "rule,severity,file,line,column,record_id,explanation\nr,refuse,f.csv,3,c,'=1+1,\"Words, more.\"\nr,warn,f.csv,,,,W\n",
        Written(path => FindingsTable.Write(_ => path, [new("r", Severity.Refuse, "f.csv", 3, "c", "=1+1", "Words, more."),
            new("r", Severity.Warn, "f.csv", 0, "", "", "W")])));

    [Fact]
    public void Ledger() => Assert.Equal(
        "file,line,record_id,fate,rule,rows\nf.csv,2,R1,accepted,,1\nf.csv,3,'-1,superseded,duplicates.last,1\n"
            + "g.csv,,,refused,identifier.header,1\n",
        Written(path => LedgerTable.Write(_ => path, table =>
        {
            LedgerTable.Add(table, new("f.csv", 2, "R1"u8, Fate.Accepted, ""));
            LedgerTable.Add(table, new("f.csv", 3, "-1"u8, Fate.Superseded, "duplicates.last"));
            LedgerTable.Add(table, new("g.csv", 0, default, Fate.Refused, "identifier.header"));
        })));

    [Fact]
    public void Quarantine_keeps_a_rows_own_cells_and_headings() => Assert.Equal(
        "origin,line,reasons,Date,'=x\np.csv,7,date.bad key.missing,31/02/2026,'-3\n",
        Written(path => QuarantineTable.Write(_ => path, ["Date", "=x"], [new("p.csv", 7, "date.bad key.missing", ["31/02/2026", "-3"])])));

    private static string Written(Action<string> write)
    {
        var path = Path.GetTempFileName();
        try
        {
            write(path);
            return File.ReadAllText(path);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
