using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Events too rare for a run chart are told case by case.</summary>
public sealed class RareEventTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Gaps_count_cases_up_to_each_event_in_order_of_date_whatever_the_order_of_the_file()
    {
        // Ten a month from January 2024, on days 10 to 19; not met are cases 5, 15 and 62 of 240 (counted from 1). The file is backwards.
        await Run(case_ => case_ is 5 or 15 or 62);
        var rows = CsvTable.Read(_workspace["out"], "tables", "rare_events.csv").Rows.ToArray();
        Assert.All(rows, row => Assert.Equal("not_met", row["event"]));
        Assert.Equal(("3", "240"), Counts("total"));
        Assert.Equal(("3", "120"), Counts("baseline"));
        Assert.Equal(("0", "120"), Counts("after"));
        Assert.Equal("3", rows.Single(row => row["part"] == "after")["expected"]);
        // One ratio, one interval: that of after_ratio, which allows for the few events of the baseline.
        Assert.All((string[])["value", "lower", "upper", "method"],
            column => Assert.Equal("", rows.Single(row => row["part"] == "after")[column]));
        Assert.Equal("5", rows.Single(row => row["part"] == "first")["cases"]);
        // Case 5 is on 14 January, case 15 on 14 February, case 62 on 11 July 2024; the report month ends on 31 December 2025.
        Assert.Equal(["2024-02 10 31", "2024-07 47 148"],
            rows.Where(row => row["part"] == "gap").Select(row => $"{row["period"]} {row["cases"]} {row["days"]}"));
        Assert.Equal(["178 538"], rows.Where(row => row["part"] == "open").Select(row => $"{row["cases"]} {row["days"]}"));
        // Conditional exact test, 0 of 3 with odds 1: upper end 2.5 % point of no event in three, (1 − 0.025^(1/3)) /
        // 0.025^(1/3) = 2.41998.
        Assert.Equal(2.41998, double.Parse(rows.Single(row => row["part"] == "after_ratio")["upper"], CultureInfo.InvariantCulture), 1e-4);
        Assert.True(File.Exists(_workspace["out", "charts", "rare_measure.svg"]));
        Assert.Contains("tables/rare_events.csv", _workspace.Read("out", "datapackage.json"), StringComparison.Ordinal);

        (string, string) Counts(string part) =>
            rows.Single(row => row["part"] == part) is var row ? (row["events"], row["cases"]) : default;
    }

    [Fact]
    public async Task None_in_all_has_the_one_sided_exact_bound_and_no_drawing()
    {
        await Run(_ => false);
        var bound = Assert.Single(CsvTable.Read(_workspace["out"], "tables", "rare_events.csv").Rows, row => row["part"] == "bound");
        // 1 − 0.05^(1/240): Hanley JA, Lippman-Hand A. JAMA 1983;249:1743-1745.
        Assert.Equal(1 - Math.Pow(0.05, 1 / 240.0), double.Parse(bound["upper"], CultureInfo.InvariantCulture), 1e-10);
        Assert.Contains("Zero observed does not mean zero risk.", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
        Assert.False(File.Exists(_workspace["out", "charts", "rare_measure.svg"]));
    }

    [Fact]
    public async Task A_common_event_is_left_to_its_proportion()
    {
        await Run(case_ => case_ % 3 == 0);
        Assert.False(File.Exists(_workspace["out", "tables", "rare_events.csv"]));
        Assert.DoesNotContain("id=\"rare\"", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_measures_of_the_same_records_are_told_once_and_days_between_them_have_limits_of_their_own()
    {
        _workspace.Write("again.yaml", TinyPipeline.Measure.Replace("id: measure", "id: again", StringComparison.Ordinal)
            .Replace("title: Tube at the first attempt", "title: Another attempt was needed", StringComparison.Ordinal)
            .Replace("met: tube_first_time", "met: not tube_first_time", StringComparison.Ordinal)
            .Replace("expect: met", "expect: not_met", StringComparison.Ordinal));
        // The first case of January to April 2024: gaps of 31, 29 and 31 days, all in the baseline.
        await Run(case_ => case_ is 1 or 11 or 21 or 31, "measures: [measure.yaml, again.yaml]");
        var rows = CsvTable.Read(_workspace["out"], "tables", "rare_events.csv").Rows.ToArray();
        Assert.Equal(["again met", "measure not_met"], rows.Where(row => row["part"] == "total")
            .Select(row => $"{row["measure"]} {row["event"]}").Order(StringComparer.Ordinal));
        // Exponential: median m ln 2 and upper limit −m ln Φ(−3), Φ(−3) = 0.00134990 (Montgomery DC, Introduction to Statistical Quality
        // Control, ch. 7, from memory; Φ by table).
        var limits = rows.First(row => row["part"] == "days_limits");
        Assert.Equal(91 / 3.0 * Math.Log(2), double.Parse(limits["value"], CultureInfo.InvariantCulture), 1e-9);
        Assert.Equal(-91 / 3.0 * Math.Log(0.00134990), double.Parse(limits["upper"], CultureInfo.InvariantCulture), 1e-3);
        var page = _workspace.Read("out", "appendix.html");
        // An event that is named goes before the absence of something.
        Assert.Contains("Nearly the same records, not shown again: Not met: Tube at the first attempt (4/240, 4 shared).", page,
            StringComparison.Ordinal);
        Assert.True(File.Exists(_workspace["out", "charts", "rare_again.svg"]));
        Assert.False(File.Exists(_workspace["out", "charts", "rare_measure.svg"]));
    }

    private async Task Run(Func<int, bool> notMet, string measures = "measures: [measure.yaml]")
    {
        var rows = Enumerable.Range(0, 240).Select(i => string.Create(CultureInfo.InvariantCulture,
            $"r{i:D3},{2024 + (i / 120)}-{(i / 10 % 12) + 1:D2}-{(i % 10) + 10},icu,1,{(notMet(i + 1) ? "no" : "yes")}\n"));
        _workspace.Write("rows.csv", new StringBuilder("id,day,place,attempts,first\n").AppendJoin("", rows.Reverse()).ToString());
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("as_of: 2026-02-01", "as_of: 2025-12-31", StringComparison.Ordinal)
            .Replace("from: 2026-01", "from: 2024-01", StringComparison.Ordinal)
            .Replace("measures: [measure.yaml]", measures, StringComparison.Ordinal));
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "all");
        Assert.True(result.Exit == 0, result.ToString());
    }
}
