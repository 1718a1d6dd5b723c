using System.Globalization;
using System.Text;
using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Control charts in a run say what <c>compute</c> says of the same months, and what answers that records hold twice say of each other.
/// </summary>
public sealed class ControlChartTests : IDisposable
{
    private const int Months = 36, Empty = 20, Odd = 30;

    private const string Low = """
        id: low
        title: Lowest saturation
        kind: quantity
        eligible: attempts_total >= 1
        value: spo2_min
        unit: "%"
        direction: up
        why: How low it went.
        source: Invented for this test.
        examples:
          - {given: {attempts_total: 1, spo2_min: 88}, expect: 88}

        """;

    // Thirty samples of 50 that vary more than chance (NIST/SEMATECH e-Handbook 6.3.3.2; Montgomery), and six invented months.
    private static readonly int[] Wild =
    [
        12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6, 40, 9, 6, 12, 5, 6
    ];

    private readonly Workspace _workspace = TinyPipeline.Create();

    private bool _wild;

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task The_table_is_what_compute_says_of_the_same_months()
    {
        await Run();
        var (of, met) = (Enumerable.Range(0, Months).Select(Records).ToArray(),
            Enumerable.Range(0, Months).Select(i => Records(i) - NotMet(i)).ToArray());
        await Same("measure", "p_exact", "p_chart", $$"""{"met": [{{Join(met)}}], "eligible": [{{Join(of)}}], "baseline_points": 12}""");
        var days = Enumerable.Range(0, Months).Select(i => DateTime.DaysInMonth(2023 + (i / 12), (i % 12) + 1));
        await Same("procedures_a_day", "u_exact", "u_chart",
            $$"""{"events": [{{Join(of)}}], "exposures": [{{Join(days)}}], "baseline_points": 12}""");
        // A monthly median is no statement of a month: 28 to 35 in 100 stable departments would see one outside within two years.
        Assert.Equal(["measure", "procedures_a_day"], CsvTable.Read(_workspace["out"], "tables", "controlcharts.csv").Rows
            .Select(row => row["measure"]).Distinct());

        var rows = CsvTable.Read(_workspace["out"], "tables", "controlcharts.csv").Rows.Where(row => row["measure"] == "measure").ToArray();
        Assert.Equal(["2025-07"], rows.Where(row => row["outside"] == "yes").Select(row => row["period"]));
        Assert.Equal(("0", "0", "", ""),
            rows[Empty] is var gap ? (gap["numerator"], gap["denominator"], gap["value"], gap["outside"]) : default);
        Assert.All(rows[..12], row => Assert.Equal(("", "2023-01/2023-12"), (row["outside"], row["baseline"])));
        var page = _workspace.Read("out", "appendix.html");
        Assert.DoesNotContain("Outside the limits", page, StringComparison.Ordinal);
        // The figures are those of the study's table.
        var study = File.ReadLines(Repository.InRoot("docs", "statistics", "signals.md"))
            .Single(line => line.StartsWith("| 10 / 12 | three-sigma limits |", StringComparison.Ordinal))
            .Split('|', StringSplitOptions.TrimEntries);
        Assert.Contains($"{study[4]} in 100 saw a month outside the usual three-sigma limits on one of six measures within 36 reports",
            page, StringComparison.Ordinal);
        Assert.Contains("tables/controlcharts.csv", _workspace.Read("out", "datapackage.json"), StringComparison.Ordinal);
        Assert.True(File.Exists(_workspace["out", "charts", "control_measure.svg"]));
    }

    [Fact]
    public async Task Where_the_baseline_varies_more_than_chance_limits_as_wide_stand_beside()
    {
        _wild = true;
        await Run(baseline: "baseline: {from: 2023-01, months: 30}");
        var (met, eligible) = (Join(Wild.Select(not => 50 - not)), Join(Wild.Select(_ => 50)));
        await Same("measure", "p_laney", "p_chart",
            $$"""{"met": [{{met}}], "eligible": [{{eligible}}], "baseline_points": 30, "limits": "laney"}""", baseline: 30);
        var page = _workspace.Read("out", "appendix.html");
        // 1.66 as docs/statistics/control-charts.md prints it.
        Assert.Contains("Neighbouring months of the baseline differ 1.66 times as much as chance would have it", page,
            StringComparison.Ordinal);
        Assert.Contains("dashed: wider limits", _workspace.Read("out", "charts", "control_measure.svg"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_month_that_is_not_over_is_left_out_and_said_to_be()
    {
        await Run("as_of: 2025-12-15", arguments: ["--month", "2025-12"]);
        Assert.Equal("2025-11", CsvTable.Read(_workspace["out"], "tables", "controlcharts.csv").Rows
            .Last(row => row["measure"] == "measure")["period"]);
        Assert.Contains("December\u00a02025 is not over and is left out here.", _workspace.Read("out", "appendix.html"),
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "No baseline is declared")]
    [InlineData("baseline: {from: 2023-01, months: 6}", "The declared baseline is shorter than 12 months")]
    [InlineData("baseline: {from: 2023-01, months: 36}", "No whole month has followed the declared baseline yet")]
    public async Task Without_a_baseline_that_is_over_one_sentence_says_why_there_is_no_chart(string baseline, string why)
    {
        await Run(baseline: baseline);
        Assert.Contains("There are no control charts yet. " + why, _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
        Assert.False(File.Exists(_workspace["out", "tables", "controlcharts.csv"]));
    }

    [Fact]
    public async Task Answers_held_twice_are_compared_as_recorded_and_have_the_kappa_of_a_printed_table()
    {
        // 20 and 15 agree, 5 and 10 do not: kappa 0.4 (the worked example of docs/statistics/kappa.md; 0.7 seen, 0.5 by chance, by hand).
        await Run(agreement: true);
        var rows = CsvTable.Read(_workspace["out"], "tables", "agreement.csv").Rows.ToArray();
        Assert.Equal(["20", "5", "10", "15"], rows.Where(row => row["pair"] == "first_pass" && row["part"] == "cell")
            .Select(row => row["n"]));
        var kappa = rows.Single(row => row["pair"] == "first_pass" && row["part"] == "kappa");
        Assert.Equal(("50", "35", "0.7", "0.5"), (kappa["n"], kappa["agree"], kappa["agreement"], kappa["by_chance"]));
        Assert.Equal(0.4, double.Parse(kappa["value"], CultureInfo.InvariantCulture), 1e-12);
        // The number of attempts is blanked where the rows contradict it, so that after blanking all would agree: 3 of 50 say 2 and show 1.
        Assert.Equal(("50", "47"), rows.Single(row => row["pair"] == "attempts" && row["part"] == "kappa") is var count
            ? (count["n"], count["agree"])
            : default);
        var page = _workspace.Read("out", "appendix.html");
        Assert.Contains("0.40 (0.15\u00a0to\u00a00.65)", page, StringComparison.Ordinal);
        Assert.Contains("no words grade it", page, StringComparison.Ordinal);
        Assert.Contains("tables/agreement.csv", _workspace.Read("out", "datapackage.json"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_set_for_others_has_neither()
    {
        await Run(agreement: true, audience: "network");
        Assert.DoesNotContain("Control charts", _workspace.Read("out", "report.html"), StringComparison.Ordinal);
        Assert.DoesNotContain("Recorded twice", _workspace.Read("out", "report.html"), StringComparison.Ordinal);
        Assert.False(File.Exists(_workspace["out", "tables", "controlcharts.csv"]));
        Assert.False(File.Exists(_workspace["out", "tables", "agreement.csv"]));
    }

    private int Records(int month) => _wild ? 50 : month == Empty ? 0 : 10 + (month * 5 % 7);

    private int NotMet(int month) => _wild ? Wild[month] : month == Odd ? Records(month) - 1 : month == Empty ? 0 : 1 + (month % 3);

    private static int Saturation(int month, int record) => 80 + (((month * 7) + (record * 3)) % 17);

    private double Median(int month)
    {
        int[] sorted = [.. Enumerable.Range(0, Records(month)).Select(record => Saturation(month, record)).Order()];
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2.0;
    }

    private static string Join(IEnumerable<int> numbers) =>
        string.Join(", ", numbers.Select(number => number.ToString(CultureInfo.InvariantCulture)));

    private async Task Same(string measure, string method, string statistic, string inputs, string? part = null, int baseline = 12)
    {
        var rows = CsvTable.Read(_workspace["out"], "tables", "controlcharts.csv").Rows
            .Where(row => row["measure"] == measure && row["method"] == method).ToArray();
        Assert.Equal(Months, rows.Length);
        var result = await ToolProcess.Run(_workspace.Folder, "compute", statistic, inputs);
        Assert.True(result.Exit == 0, result.ToString());
        using var json = JsonDocument.Parse(result.Output);
        var chart = part is null ? json.RootElement : json.RootElement.GetProperty(part);
        Assert.All(chart.GetProperty("points").EnumerateArray().Zip(rows), pair =>
        {
            foreach (var name in (string[])["value", "lower", "upper"])
                Close(pair.First.GetProperty(name), pair.Second[name]);
            Close(chart.GetProperty("centre"), pair.Second["centre"]);
            Close(chart.GetProperty("variation"), pair.Second["variation"]);
        });
        Assert.Equal(chart.GetProperty("beyond").EnumerateArray().Select(position => position.GetInt32() - 1)
            .Where(position => position >= baseline),
            rows.Index().Where(row => row.Item["outside"] == "yes").Select(row => row.Index));

        static void Close(JsonElement expected, string cell)
        {
            if (expected.ValueKind == JsonValueKind.Null)
                Assert.Equal("", cell);
            else
                Assert.Equal(expected.GetDouble(), double.Parse(cell, CultureInfo.InvariantCulture), 1e-9);
        }
    }

    private async Task Run(
        string asOf = "as_of: 2025-12-31", string baseline = "baseline: {from: 2023-01, months: 12}", bool agreement = false,
        string audience = "department", string[]? arguments = null)
    {
        var rows = new StringBuilder("id,day,place,attempts,first,low,said,attempt1_technique,attempt1_outcome\n");
        var number = 0;
        for (var month = 0; month < Months; month++)
            for (var record = 0; record < Records(month); record++, number++)
            {
                // The first 50 of all hold an answer and the row of an attempt: 20 yes and success, 5 yes and not, 10 no and
                // success, 15 no and not.
                var (said, outcome) = !agreement || number >= 50
                    ? ("", "")
                    : (number < 25 ? "yes" : "no", number is < 20 or (>= 25 and < 35) ? "success" : "no_view");
                rows.Append(CultureInfo.InvariantCulture,
                    $"r{number:D3},{2023 + (month / 12)}-{(month % 12) + 1:D2}-10,icu,{(agreement && number < 3 ? 2 : 1)},"
                        + $"{(record < NotMet(month) ? "no" : "yes")},{Saturation(month, record)},{said},"
                        + $"{(outcome.Length > 0 ? "video" : "")},{outcome}\n");
            }

        _workspace.Write("rows.csv", rows.ToString());
        _workspace.Write("low.yaml", Low);
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping.TrimEnd() + "\n  spo2_min: {column: low}\n"
            + (agreement ? "  first_pass_success: {column: said}\nattempts: {wide: \"attempt{n}_*\"}\n" : ""));
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("as_of: 2026-02-01", asOf, StringComparison.Ordinal)
            .Replace("baseline: {from: 2026-01, months: 12}", baseline, StringComparison.Ordinal)
            .Replace("measures: [measure.yaml]", "measures: [measure.yaml, low.yaml]\nheadline: [measure]", StringComparison.Ordinal)
            + $"audience: {audience}\n");
        var result =
            await ToolProcess.Run(_workspace.Folder, ["run", "pipeline.yaml", "--out", "out", "--charts", "all", .. arguments ?? []]);
        Assert.True(result.Exit == 0, result.ToString());
    }
}
