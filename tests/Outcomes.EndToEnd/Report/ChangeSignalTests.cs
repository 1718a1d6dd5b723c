using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Change signals of a run: given when a large fall has shown itself, current for twelve reports unless the level has come back, given
/// again for a relapse, and silent before.
/// </summary>
public sealed class ChangeSignalTests : IDisposable
{
    private const int Cases = 20;

    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_fall_from_90_to_55_percent_is_signalled_with_its_start_and_its_month_stays_when_months_are_added()
    {
        var soon = await Signals(Rates(6));
        var row = Assert.Single(soon.Rows, each => each["rule"] == "monthly_test");
        Assert.Equal("measure", row["measure"]);
        Assert.True(string.CompareOrdinal(row["from"], "2025-01") <= 0 && string.CompareOrdinal(row["to"], "2025-01") >= 0,
            row["from"] + " to " + row["to"]);

        // Three further months: what was signalled stands as it was given.
        var later = Assert.Single((await Signals([.. Rates(6), 11, 12, 11])).Rows, each => each["rule"] == "monthly_test");
        Assert.Equal((row["from"], row["to"]), (later["from"], later["to"]));
        var page = await File.ReadAllTextAsync(_workspace["out", "report.html"], TestContext.Current.CancellationToken);
        Assert.Contains("Change signal: it looks lower", page, StringComparison.Ordinal);
        Assert.Contains("after the signal:", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_improvement_and_a_relapse_after_it_are_both_signalled()
    {
        // 60 % met, then 95 % for 14 months, then 60 % again.
        int[] better = [.. Enumerable.Repeat(12, 12), .. Enumerable.Repeat(19, 14)];
        Assert.Equal("2025-01", Assert.Single((await Signals(better[..20])).Rows, each => each["rule"] == "monthly_test")["from"]);
        Assert.Contains("it looks higher since", Page(), StringComparison.Ordinal);
        var relapse = Assert.Single((await Signals([.. better, .. Enumerable.Repeat(12, 6)])).Rows, each => each["rule"] == "monthly_test");
        Assert.Equal("2026-03", relapse["from"]);
        Assert.Contains("it looks lower since", Page(), StringComparison.Ordinal);

        // A signal a year old without a further change is history: the level in force is the new one.
        Assert.DoesNotContain((await Signals([.. better, .. Enumerable.Repeat(12, 16)])).Rows, each => each["rule"] == "monthly_test");

        string Page() => _workspace.Read("out", "report.html");
    }

    [Fact]
    public async Task A_stable_measure_shows_no_sign_and_a_first_year_is_too_few_to_judge()
    {
        Assert.DoesNotContain((await Signals([.. Enumerable.Repeat(18, 24)])).Rows, each => each["rule"] == "monthly_test");
        Assert.Contains("No sign of change",
            await File.ReadAllTextAsync(_workspace["out", "report.html"], TestContext.Current.CancellationToken), StringComparison.Ordinal);

        Assert.DoesNotContain((await Signals([.. Enumerable.Repeat(18, 6), 2, 2, 2])).Rows, each => each["rule"] == "monthly_test");
        Assert.Contains("Too few procedures to judge",
            await File.ReadAllTextAsync(_workspace["out", "report.html"], TestContext.Current.CancellationToken), StringComparison.Ordinal);
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
        Assert.DoesNotContain((await Signals(Rates(6), "changes: changes.yaml\n")).Rows, each => each["rule"] == "monthly_test");
        Assert.Contains("since the phase that started in January",
            await File.ReadAllTextAsync(_workspace["out", "report.html"], TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_table_of_the_monthly_test_holds_the_history_and_every_month_and_its_limits_never_move()
    {
        await Signals(Rates(6));
        var rows = CsvTable.Read(_workspace["out"], "tables", "monthly_test.csv").Rows.ToArray();
        Assert.Equal(["history", .. Enumerable.Repeat("report", 6)], rows.Select(row => row["part"]));
        Assert.Equal(("2024-01/2024-12", "216", "240"), (rows[0]["period"], rows[0]["met"], rows[0]["eligible"]));
        Assert.Single(rows.Select(row => (row["limit_worse"], row["limit_better"])).Distinct());
        Assert.Equal("change_signal", rows[^1]["state"]);
        var signal = Array.FindIndex(rows, row => row["state"] == "change_signal");
        Assert.True(double.Parse(rows[signal]["log_odds_worse"], CultureInfo.InvariantCulture)
            >= double.Parse(rows[signal]["limit_worse"], CultureInfo.InvariantCulture));
    }

    // 18 of 20 for 12 months, then 11 of 20.
    private static int[] Rates(int after) => [.. Enumerable.Repeat(18, 12), .. Enumerable.Repeat(11, after)];

    private async Task<CsvTable> Signals(int[] met, string more = "")
    {
        var rows = new StringBuilder("id,day,place,attempts,first\n");
        for (var month = 0; month < met.Length; month++)
            for (var i = 0; i < Cases; i++)
                rows.Append(CultureInfo.InvariantCulture,
                    $"r{month}-{i},{2024 + (month / 12)}-{(month % 12) + 1:00}-{i + 1:00},icu,1,{(i < met[month] ? "yes" : "no")}\n");
        _workspace.Write("rows.csv", rows.ToString());
        var last = new DateOnly(2024, 1, 1).AddMonths(met.Length).AddDays(-1);
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline
            .Replace("as_of: 2026-02-01", $"as_of: {last:yyyy-MM-dd}", StringComparison.Ordinal)
            .Replace("{from: 2026-01, months: 12}", "{from: 2024-01, months: 12}", StringComparison.Ordinal)
            + "headline: [measure]\n" + more);
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());
        return CsvTable.Read(_workspace["out"], "tables", "signals.csv");
    }
}
