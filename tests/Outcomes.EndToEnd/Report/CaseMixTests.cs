using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// With one coded field the model's expected events are nearly those of indirect standardisation, which can be done by hand (Breslow NE,
/// Day NE. Statistical Methods in Cancer Research II, 1987, section 2.3, from memory): baseline rates of each level times the later records
/// at that level. The ridge draws them in a little; its own numbers are those of R's mgcv (gam with H = ½, column of standard deviation 1).
/// </summary>
public sealed class CaseMixTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Expected_events_are_the_baseline_rates_of_like_records()
    {
        Write("case_mix: {measure: [measure], given: [location_type]}");
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());

        var expected = CsvTable.Read(_workspace["out"], "tables", "expected.csv").Rows.ToArray();
        // January is the baseline: 20 of 60 in the icu and 12 of 60 in the ed did not meet it. February: 30 in the icu, 15 not met; 10 in
        // the ed, 1 not met: 12 expected by the plain rates, 30 × 0.331921 + 10 × 0.201412 by R.
        Assert.Equal(("not_met", "120", "32", 32.0),
            (expected[0]["event"], expected[0]["records"], expected[0]["observed"], Number(expected[0]["expected"])));
        Assert.Equal(("40", "16", "11.9718"), (expected[1]["records"], expected[1]["observed"], expected[1]["expected"]));
        Assert.InRange(Number(expected[1]["expected"]), 11.9, 12);
        // R: the standard error from vcov of that fit, and qbeta's limits of 16 against a count of (11.9718 / 1.88877)².
        Assert.Equal(("1.88877", "1.33648", "0.698958", "2.43923"),
            (expected[1]["expected_error"], expected[1]["value"], expected[1]["lower"], expected[1]["upper"]));
        // Wider than the limits of a count of 16 alone, 9.145 to 25.983: Garwood F. Biometrika 1936;28:437-442 (from memory, agreeing with
        // R's poisson.test).
        Assert.InRange(Number(expected[1]["lower"]), 0.5, 9.145 / 11.9718);
        Assert.InRange(Number(expected[1]["upper"]), 25.983 / 11.9718, 4);
        Assert.Equal(("0", "4.0282"), (expected[0]["cumulative"], expected[1]["cumulative"]));

        var model = CsvTable.Read(_workspace["out"], "tables", "casemix.csv").Rows.ToArray();
        // The ed against the icu, of which January has as many: odds (12/48) / (20/40) = 1/2, by hand; 1.96989 by R's ridge.
        var ratio = Assert.Single(model, row => row["part"] == "odds_ratio");
        Assert.Equal(("location_type", "icu", "ed", "1.96989", "ridge_posterior"),
            (ratio["field"], ratio["level"], ratio["reference"], ratio["value"], ratio["method"]));
        var report = _workspace.Read("out", "appendix.html");
        Assert.Contains("id=\"casemix\"", report, StringComparison.Ordinal);
        Assert.Contains("What it cannot adjust for", report, StringComparison.Ordinal);
        Assert.Contains("tables/expected.csv", _workspace.Read("out", "datapackage.json"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sites_are_set_against_what_their_own_patients_let_expect()
    {
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping + "  site_code: {column: site}\n");
        Write("case_mix: {measure: [measure], given: [location_type]}", site: true);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
        var sites = CsvTable.Read(_workspace["out"], "tables", "expected.csv").Rows.Where(row => row["site"] != "all").ToArray();
        // Site A is the icu and B the ed, over both months: 90 and 70 records; expected 90 / 3 and 70 / 5 but for the ridge, by R.
        Assert.Equal([("A", "90", "29.8729", "35"), ("B", "70", "14.0989", "13")],
            sites.Select(row => (row["site"], row["records"], row["expected"], row["observed"])));
    }

    [Fact]
    public async Task An_additive_model_is_compared_where_it_is_asked_for_and_changes_no_other_table()
    {
        Write("case_mix: {measure: [measure], given: [location_type]}");
        var without = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "without");
        Write("case_mix: {measure: [measure], given: [location_type], challenger: on}");
        var with = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True((without.Exit, with.Exit) == (0, 0), with.ToString());
        var rows = CsvTable.Read(_workspace["out"], "tables", "challenger.csv").Rows.ToArray();
        Assert.Equal([("logistic", "120", "32"), ("additive", "120", "32")],
            rows.Select(row => (row["model"], row["records"], row["events"])));
        // Two places are one step for either model: both see the same two rates, so neither can tell events apart better. 0.18 is three
        // times the standard error, 0.060, of an area of a half from 32 events among 120 (Hanley and McNeil, Radiology 1982;143:29-36; by
        // hand from the formula, cited from memory).
        Assert.InRange(Number(rows[1]["difference"]), -0.18, 0.18);
        Assert.Equal(Number(rows[1]["value"]) - Number(rows[0]["value"]), Number(rows[1]["difference"]), 3);
        Assert.Contains("It adjusts nothing", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
        Assert.False(File.Exists(_workspace["without", "tables", "challenger.csv"]));
        Assert.All((string[])["casemix.csv", "expected.csv", "estimates.csv", "verdicts.csv"], table =>
            Assert.Equal(_workspace.Read("without", "tables", table), _workspace.Read("out", "tables", table)));
    }

    [Fact]
    public async Task Six_records_get_no_model_and_are_told_why()
    {
        _workspace.Write("pipeline.yaml",
            TinyPipeline.Pipeline + "case_mix: {measure: [measure], given: [location_type, attempts_total]}\n");
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
        var row = Assert.Single(CsvTable.Read(_workspace["out"], "tables", "casemix.csv").Rows);
        Assert.Equal(("refused", "5", "2"), (row["part"], row["records"], row["events"]));
        Assert.Contains("No model.", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
        Assert.Equal(0, CsvTable.Read(_workspace["out"], "tables", "expected.csv").Count);
    }

    [Theory]
    [InlineData("case_mix: {measure: [mesure]}", "there is no measure `mesure`")]
    [InlineData("case_mix: {measure: [measure], given: [location]}", "location")]
    [InlineData("case_mix: {measure: []}", "at least one")]
    [InlineData("case_mix: {measure: [measure], given: [location_type, location_type]}", "twice")]
    [InlineData("case_mix: {measure: [measure], model: logistic}", "model")]
    public async Task A_wrong_word_is_a_wrong_definition_at_its_line(string line, string said)
    {
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + line + "\n");
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.Equal(3, result.Exit);
        Assert.Contains(said, result.Error, StringComparison.Ordinal);
        Assert.Contains("pipeline.yaml", result.Error, StringComparison.Ordinal);
    }

    private void Write(string caseMix, bool site = false)
    {
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("2026-02-01", "2026-03-01", StringComparison.Ordinal)
            .Replace("months: 12", "months: 1", StringComparison.Ordinal) + caseMix + "\n");
        var rows = new StringBuilder("id,day,place,attempts,first" + (site ? ",site\n" : "\n"));
        var number = 0;
        Add("2026-01-10", "icu", 60, 20);
        Add("2026-01-11", "ed", 60, 12);
        Add("2026-02-10", "icu", 30, 15);
        Add("2026-02-11", "ed", 10, 1);
        _workspace.Write("rows.csv", rows.ToString());

        void Add(string day, string place, int records, int notMet)
        {
            for (var i = 0; i < records; i++)
                rows.Append(CultureInfo.InvariantCulture,
                    $"r{++number},{day},{place},1,{(i < notMet ? "no" : "yes")}{(site ? place == "icu" ? ",A" : ",B" : "")}\n");
        }
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
