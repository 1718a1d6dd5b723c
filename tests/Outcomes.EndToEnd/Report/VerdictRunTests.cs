using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The verdict of a run: worse when a large fall has shown itself, current for twelve reports unless the level has come back, again for a
/// relapse, and no sign of change before.
/// </summary>
public sealed class VerdictRunTests : IDisposable
{
    private const int Cases = 20;

    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_fall_from_90_to_55_percent_is_told_with_its_start_and_its_month_stays_when_months_are_added()
    {
        var soon = await Verdict(Rates(6));
        Assert.Equal("worse", soon["label"]);
        Assert.True(string.CompareOrdinal(soon["changed_from"], "2025-01") <= 0
            && string.CompareOrdinal(soon["changed_to"], "2025-01") >= 0,
            soon["changed_from"] + " to " + soon["changed_to"]);

        // Three further months: what was told stands as it was given.
        var later = await Verdict([.. Rates(6), 11, 12, 11]);
        Assert.Equal((soon["changed_from"], soon["reported"]), (later["changed_from"], later["reported"]));
        // One sentence, wherever the measure is told of.
        foreach (var file in new[] { "report.html", "appendix.html" })
        {
            var page = _workspace.Read("out", file).Replace('\u00a0', ' ');
            Assert.Equal(2, page.Split(later["sentence"]).Length - 1);
            Assert.Equal(2, page.Split("has probably got worse").Length - 1);
        }
    }

    [Fact]
    public async Task An_improvement_and_a_relapse_after_it_are_both_told()
    {
        // 60 % met, then 95 % for 14 months, then 60 % again.
        int[] better = [.. Enumerable.Repeat(12, 12), .. Enumerable.Repeat(19, 14)];
        var first = await Verdict(better[..20]);
        Assert.Equal(("better", "2025-01"), (first["label"], first["changed_from"]));
        var relapse = await Verdict([.. better, .. Enumerable.Repeat(12, 6)]);
        Assert.Equal(("worse", "relapse", "2026-03"), (relapse["label"], relapse["reason"], relapse["changed_from"]));
        Assert.Contains("has probably got worse again since", Page(), StringComparison.Ordinal);

        // A signal a year old without a further change is history: the level in force is the new one.
        Assert.Equal("no_sign_of_change", (await Verdict([.. better, .. Enumerable.Repeat(12, 16)]))["label"]);
    }

    [Fact]
    public async Task A_stable_measure_shows_no_sign_and_a_first_year_is_too_few_to_judge()
    {
        Assert.Equal("no_sign_of_change", (await Verdict([.. Enumerable.Repeat(18, 24)]))["label"]);
        Assert.Contains("No sign of change: now", Page(), StringComparison.Ordinal);
        Assert.Equal("too_few_to_judge", (await Verdict([.. Enumerable.Repeat(18, 6), 2, 2, 2]))["label"]);
        Assert.Contains("Too few cases to judge", Page(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_event_under_5_in_100_is_compared_once_a_year_and_never_month_by_month()
    {
        // Not met: 1 of 20 in every other month for two years, then five of 20 in the last half-year.
        int[] rare = [.. Enumerable.Range(0, 24).Select(month => 20 - (month % 2)), 15, 15, 15, 15, 15, 15];
        var waiting = await Verdict(rare);
        Assert.Equal(("too_rare", "2026-12"), (waiting["label"], waiting["sentence"].Contains("next with December 2026",
            StringComparison.Ordinal) ? "2026-12" : waiting["sentence"]));
        Assert.Empty(CsvTable.Read(_workspace["out"], "tables", "monthly_test.csv").Rows);
        var compared = await Verdict([.. rare, 20, 20, 20, 20, 20, 20]);
        Assert.Equal(("worse", "yearly_comparison"), (compared["label"], compared["reason"]));
        // R, fisher.test(matrix(c(210, 30, 468, 12), 2))$p.value, 30 of 240 against 12 of 480.
        Assert.Equal(2.42947594145742e-07, double.Parse(compared["p"], CultureInfo.InvariantCulture), 1e-16);
    }

    [Fact]
    public async Task Missing_records_that_would_turn_a_conclusion_are_counted()
    {
        // 60 % before, 14 of 16 since: with the four unrecorded of each month as failures, 70 %.
        var verdict = await Verdict([.. Enumerable.Repeat(12, 12), .. Enumerable.Repeat(14, 12)], blank: month => month >= 12 ? 4 : 0);
        Assert.Equal(("better", "48"), (verdict["label"], verdict["tipping_missing"]));
        var needed = int.Parse(verdict["tipping_records"], CultureInfo.InvariantCulture);
        Assert.InRange(needed, 2, 47);
        Assert.Contains($"{needed} of the 48 missing records, if not met, would reverse this.", Page(), StringComparison.Ordinal);

        // Recorded as failures, as many in the latest months take the conclusion away, and one fewer does not.
        Assert.NotEqual("better", (await Recorded(needed))["label"]);
        Assert.Equal("better", (await Recorded(needed - 1))["label"]);

        Task<IReadOnlyDictionary<string, string>> Recorded(int failures) => Verdict(
            [.. Enumerable.Repeat(12, 12), .. Enumerable.Repeat(14, 12)],
            blank: month => month < 12 ? 0 : 4 - Math.Clamp(failures - (4 * (23 - month)), 0, 4));
    }

    [Fact]
    public async Task A_declared_phase_starts_a_new_history_and_nothing_is_judged_before_it_is_twelve_months_long()
    {
        _workspace.Write("changes.yaml", """
            - date: 2025-01-01
              what: Another form
              measures: [measure]
              expect: down
              judged_after: 12
              why: It asks for more.
              new_phase: true

            """);
        Assert.Equal("too_few_to_judge", (await Verdict(Rates(6), "changes: changes.yaml\n"))["label"]);
        Assert.Contains("since the phase that started in January 2025", Page(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_table_of_the_monthly_test_holds_the_history_and_every_month_and_its_limits_never_move()
    {
        await Verdict(Rates(6));
        var rows = CsvTable.Read(_workspace["out"], "tables", "monthly_test.csv").Rows.ToArray();
        Assert.Equal(["history", .. Enumerable.Repeat("report", 6)], rows.Select(row => row["part"]));
        Assert.Equal(("2024-01/2024-12", "216", "240"), (rows[0]["period"], rows[0]["met"], rows[0]["eligible"]));
        Assert.Single(rows.Select(row => (row["limit_worse"], row["limit_better"])).Distinct());
        Assert.Contains(rows, row => row["part"] == "report" && double.Parse(row["log_odds_worse"], CultureInfo.InvariantCulture)
            >= double.Parse(row["limit_worse"], CultureInfo.InvariantCulture));
    }

    // 18 of 20 for 12 months, then 11 of 20.
    private static int[] Rates(int after) => [.. Enumerable.Repeat(18, 12), .. Enumerable.Repeat(11, after)];

    private string Page() => _workspace.Read("out", "appendix.html").Replace('\u00a0', ' ');

    private async Task<IReadOnlyDictionary<string, string>> Verdict(int[] met, string more = "", Func<int, int>? blank = null)
    {
        var rows = new StringBuilder("id,day,place,attempts,first\n");
        for (var month = 0; month < met.Length; month++)
            for (var i = 0; i < Cases; i++)
                rows.Append(CultureInfo.InvariantCulture,
                    $"r{month}-{i},{2024 + (month / 12)}-{(month % 12) + 1:00}-{i + 1:00},icu,1,"
                        + $"{(i >= Cases - (blank?.Invoke(month) ?? 0) ? "" : i < met[month] ? "yes" : "no")}\n");
        _workspace.Write("rows.csv", rows.ToString());
        var last = new DateOnly(2024, 1, 1).AddMonths(met.Length).AddDays(-1);
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline
            .Replace("as_of: 2026-02-01", $"as_of: {last:yyyy-MM-dd}", StringComparison.Ordinal)
            .Replace("{from: 2026-01, months: 12}", "{from: 2024-01, months: 12}", StringComparison.Ordinal)
            + "headline: [measure]\n" + more);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());
        return Assert.Single(CsvTable.Read(_workspace["out"], "tables", "verdicts.csv").Rows);
    }
}
