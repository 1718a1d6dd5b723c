using System.Globalization;
using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The whole way from rows to the figures that a journal printed: Prekker ME et al. N Engl J Med 2023;389:418-429, abstract.
/// Its intervals are Wald with continuity correction (found by recomputing them), used here for this check only.
/// </summary>
public sealed class PublishedTrialTests(SharedRuns runs)
{
    [Fact]
    public void The_trial_has_1417_patients() => Assert.Equal(1417, PublishedTrial.Rows().Count(c => c == '\n') - 1);

    [Theory]
    [InlineData("first_pass", 600, 504, "85.1", "70.8", "14.3 (9.9 to 18.7)")]
    [InlineData("severe_complication", 151, 149, "21.4", "20.9", "0.5 (-3.9 to 4.9)")]
    public async Task Rows_in_give_the_printed_figures_out(
        string measure, int videoMet, int directMet, string videoPercent, string directPercent, string difference)
    {
        var workspace = (await runs.Get("published trial", PublishedTrial.Create, "run", "pipeline.yaml", "--charts", "none",
            "--out", "out")).Workspace;

        var rows = CsvTable.Read(workspace["out"], "tables", "estimates.csv").Rows
            .Where(row => row["measure"] == measure && row["stratum"] == "device" && row["period"] == "2023-01/2023-12")
            .ToDictionary(row => row["level"], StringComparer.Ordinal);
        AssertCount((videoMet, 705), rows["video"]);
        AssertCount((directMet, 712), rows["direct"]);
        Assert.Equal(videoPercent, Percent(rows["video"]["value"]));
        Assert.Equal(directPercent, Percent(rows["direct"]["value"]));

        var (video, direct) = (rows["video"]["met"], rows["direct"]["met"]);
        var json = $$$"""{"first":{"met":{{{video}}},"eligible":705},"second":{"met":{{{direct}}},"eligible":712}}""";
        var compute = await ToolProcess.Run(workspace.Folder, "compute", "difference_wald_cc", json);
        Assert.True(compute.Exit == 0, compute.ToString());
        using var answer = JsonDocument.Parse(compute.Output);
        string Of(string name) => Percent(answer.RootElement.GetProperty(name).GetRawText());
        Assert.Equal(difference, $"{Of("value")} ({Of("lower")} to {Of("upper")})");
    }

    private static void AssertCount((int Met, int Eligible) expected, IReadOnlyDictionary<string, string> row)
    {
        Assert.Equal(expected,
            (int.Parse(row["met"], CultureInfo.InvariantCulture), int.Parse(row["eligible"], CultureInfo.InvariantCulture)));
        Assert.Equal("0", row["missing"]);
    }

    private static string Percent(string fraction) =>
        (100 * double.Parse(fraction, CultureInfo.InvariantCulture)).ToString("F1", CultureInfo.InvariantCulture);
}
