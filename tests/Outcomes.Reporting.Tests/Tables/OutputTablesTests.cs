using Outcomes.Analysis;
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
    public void Verdicts_have_their_label_their_numbers_and_the_sentence_of_the_report() => Assert.Equal(
        "measure,period,label,reason,caution,met,eligible,missing,now,now_lower,now_upper,adjusted,changed_about,changed_from,changed_to,"
        + "reported,before,evaluated_with,difference,difference_lower,difference_upper,difference_level_pct,worse_to,noticed,p,"
        + "tipping_records,tipping_missing,sentence,caution_sentence\n"
        + "m,2026-03,worse,monthly_test,exaggerates,150,180,2,0.8,0.75,0.85,no,2025-06,2025-05,2025-07,2025-09,0.9,,,,,,,,,1,2,"
        + "\"M has probably got worse since about June 2025 (May 2025 to July 2025): now 80.0 % (75.0 to 85.0 %), before 90.0 %.\","
        + "\"The signal chose these months, so the rate exaggerates: later months will tell.\"\n",
        Written(path => VerdictsTable.Write(_ => path, Samples.Model() with
        {
            Measures =
            [
                new MeasureFigures
                {
                    Measure = Samples.Definition("m", "M", Outcomes.Measures.Catalogue.Direction.Up),
                    Verdict = new()
                    {
                        Measure = Samples.Definition("m", "M", Outcomes.Measures.Catalogue.Direction.Up),
                        Label = VerdictLabel.Worse,
                        Reason = VerdictReason.MonthlyTest,
                        Caution = VerdictCaution.Exaggerates,
                        Year = new(150, 180, 2),
                        Now = new(0.8, new(0.75, 0.85)),
                        Change = new(true, new(2025, 6), new(2025, 5), new(2025, 7), new(2025, 9), 0.9),
                        Tipping = new(1, 2, AreFailures: false),
                    },
                },
                new MeasureFigures { Measure = Samples.Definition("n", "N", Outcomes.Measures.Catalogue.Direction.Up) },
            ],
        })));

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
