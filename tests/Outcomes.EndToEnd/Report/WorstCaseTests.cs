using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Planted records of arrest and shock go through the whole pipeline: none of the sickest falls out of the figures, the flags or the
/// findings.
/// </summary>
public sealed class WorstCaseTests : IDisposable
{
    private const string Pipeline = """
        name: worst
        as_of: 2026-02-01
        sources:
          procedures: {file: rows.csv, mapping: mapping.yaml}
        headline: [spo2_below_90, hypotension]
        baseline: {from: 2026-01, months: 12}

        """;

    private const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          spo2_min: {column: spo2 low, missing: {not recordable: unrecordable}}
          spo2_pre: {column: spo2 start}
          spo2_at_2min: {column: spo2 2 min}
          sbp_pre: {column: sys start}
          sbp_min: {column: sys low}
          map_pre: {column: map start}
          map_min: {column: map low}
          cardiac_arrest_before: {column: arrest before}
          cardiac_arrest_peri: {column: arrest}
          age_years: {column: age}
        constants: {urgency: emergency, attempts_total: 1, first_pass_success: "yes", vasopressor_new: "no"}

        """;

    // What was recorded last stands first where the order matters: a 0 is read before the column that tells of the arrest.
    private const string Rows = """
        id,day,spo2 low,spo2 start,sys low,sys start,map low,map start,age,arrest before,arrest,spo2 2 min
        well1,2026-01-02,96,98,110,130,80,95,60,no,no,
        well2,2026-01-03,97,99,112,131,81,96,61,no,no,
        well3,2026-01-04,95,97,108,125,79,92,62,no,no,
        well4,2026-01-05,94,98,104,120,77,90,63,no,no,
        well5,2026-01-06,93,97,100,118,75,88,64,no,no,
        word,2026-01-07,unrecordable,97,Unrecordable,120,UNRECORDABLE,85,65,no,no,
        phrase,2026-01-08,not recordable,96,95,118,70,84,66,no,no,
        zero_in_arrest,2026-01-09,0,95,0,110,0,80,67,no,yes,
        zero_alone,2026-01-10,0,95,0,110,0,80,68,no,no,
        lowest_above_start,2026-01-11,96,84,120,62,90,50,69,no,no,
        shock_from_start,2026-01-12,93,97,95,unrecordable,60,unrecordable,70,no,no,
        arrest_before,2026-01-13,0,0,0,0,0,0,71,yes,no,
        unrecordable_at_end,2026-01-14,96,98,110,130,80,95,72,no,no,unrecordable
        low_at_end,2026-01-15,95,97,108,125,79,92,73,no,no,78
        only_the_end,2026-01-16,,97,108,125,79,92,74,no,no,unrecordable
        end_above_lowest,2026-01-17,93,97,108,125,79,92,75,no,no,99

        """;

    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task No_planted_record_of_arrest_or_shock_is_lost_from_figures_flags_and_findings()
    {
        await Run();
        // Sixteen records; arrest before is left out of all of these, and a 0 without an arrest is missing.
        Count("spo2_below_90", met: 6, eligible: 13, missing: 1);
        Count("spo2_below_85", met: 7, eligible: 14, missing: 1);
        Count("spo2_below_80", met: 6, eligible: 14, missing: 1);
        Count("spo2_fall_10", met: 6, eligible: 14, missing: 1);
        Count("hypoxaemic_at_induction", met: 1, eligible: 15, missing: 0);
        Count("hypotension", met: 2, eligible: 12, missing: 1);
        Count("severe_hypotension", met: 2, eligible: 12, missing: 1);
        Count("map_below_65", met: 2, eligible: 12, missing: 1);
        Medians();
        Findings();
        Flags();
    }

    private async Task Run()
    {
        _workspace.Write("pipeline.yaml", Pipeline);
        _workspace.Write("mapping.yaml", Mapping);
        _workspace.Write("rows.csv", Rows);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
    }

    private void Count(string measure, int met, int eligible, int missing)
    {
        var row = Assert.Single(Table("counts").Rows,
            row => row["measure"] == measure && row["stratum"] == "all" && row["period"] == "2026-01");
        Assert.Equal($"{measure} {met} of {eligible}, {missing} missing",
            $"{measure} {row["met"]} of {row["eligible"]}, {row["missing"]} missing");
    }

    // Five saturations were too low to measure, two of them at the end alone: in no median, and counted beside it.
    private void Medians()
    {
        var median = Assert.Single(Table("quantities").Rows, row => row["measure"] == "lowest_saturation" && row["period"] == "2026-01"
            && row["stratum"] == "all" && row["quantile"] == "0.5");
        Assert.Equal(("93", "9", "1", "5"), (median["value"], median["n"], median["missing"], median["unrecordable"]));
        Assert.DoesNotContain(Table("values").Rows, row => row["measure"] == "lowest_saturation" && row["value"] == "0");
        Assert.Contains("1, and 5 too low to measure", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    // Lines are those of the file: the headings stand in line 1.
    private void Findings()
    {
        var findings = Table("findings").Rows.Select(row => $"{row["rule"]} {row["severity"]} {row["line"]}").ToArray();
        string[] outOfRange = ["out_of_range blank 10", "out_of_range blank 10", "out_of_range blank 10"];
        Assert.Equal(outOfRange, findings.Where(finding => finding.StartsWith("out_of_range", StringComparison.Ordinal)));
        foreach (var (rule, lines) in new (string, string[])[]
        {
            ("spo2_min_above_pre", ["11"]), ("sbp_min_above_pre", ["11", "12"]), ("map_min_above_pre", ["11", "12"]),
            ("spo2_min_above_2min", ["14", "15"]),
        })
            Assert.Equal(lines.Select(line => $"{rule} warn {line}"),
                findings.Where(finding => finding.StartsWith(rule, StringComparison.Ordinal)));
    }

    // The flags name the records: a saturation below 60 % where it was too low to measure, and severe hypotension. A record in arrest
    // before the procedure has a flag of its own, which PlantedRecordTests look for.
    private void Flags()
    {
        var ids = Table("../case-key").Rows.ToDictionary(row => row["record_id"], row => row["case_id"]);
        var pages = _workspace.Read("out", "cases.html");
        string[] below60 = ["only_the_end", "phrase", "unrecordable_at_end", "word", "zero_in_arrest"];
        string[] below65 = ["lowest_above_start", "shock_from_start", "word", "zero_in_arrest"];
        Assert.Equal(below60, Flagged("saturation_below_60"));
        Assert.Equal(below65, Flagged("systolic_below_65"));
        Assert.Contains("too low to measure", Page("word"), StringComparison.Ordinal);
        // Who was in arrest before induction is counted there, and is nobody's fall in saturation or pressure.
        Assert.Equal("tier_3", Table("../case-key").Rows.Single(row => row["record_id"] == "arrest_before")["kind"]);
        Assert.Contains("Intubated in cardiac arrest",
            pages.Split('\n').Single(line => line.Contains($">{ids["arrest_before"]}<", StringComparison.Ordinal)),
            StringComparison.Ordinal);

        string[] Flagged(string flag) =>
            [.. ids.Keys.Where(id => Page(id).Contains(flag, StringComparison.Ordinal)).Order(StringComparer.Ordinal)];

        string Page(string id)
        {
            var at = pages.IndexOf($"id=\"case-{ids[id]}\"", StringComparison.Ordinal);
            return at < 0 ? "" : pages[at..pages.IndexOf("</article>", at, StringComparison.Ordinal)];
        }
    }

    private CsvTable Table(string name) => CsvTable.Read(_workspace["out"], "tables", $"{name}.csv");
}
