using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>What a declared change did, in the table and on the page.</summary>
public sealed class ChangeTableTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    // Twenty a month, half of them met in 2024 and 16 from then on; 24 months on each side: odds 1 and 4, no trend: level 4, trends 1.
    [Fact]
    public async Task A_change_is_evaluated_once_in_its_month_and_stays_as_it_was()
    {
        Write(35, month => month < 24 ? 10 : 16);
        var before = await Run("2026-11-30", "2026-11");
        Assert.Equal("waiting", before["before"]["state"]);
        Assert.Equal(("", "2026-12"), (before["after"]["value"], before["after"]["due"]));
        Assert.False(before.ContainsKey("difference"));
        var page = _workspace.Read("out", "appendix.html").Replace("\u00a0", " ", StringComparison.Ordinal);
        Assert.Contains("will be evaluated once, with December 2026; 176/220 so far, 120/240 before.", page,
            StringComparison.Ordinal);
        Assert.DoesNotContain("percentage points (", page, StringComparison.Ordinal);

        Write(36, month => month < 24 ? 10 : 16);
        var then = await Run("2026-12-31", "2026-12");
        Assert.Equal(("as_expected", "120", "240", "2025-01/2025-12"),
            (then["before"]["state"], then["before"]["met"], then["before"]["eligible"], then["before"]["period"]));
        Assert.Equal(("192", "240", "2026-01/2026-12"), (then["after"]["met"], then["after"]["eligible"], then["after"]["period"]));
        Assert.Equal(0.3, Value(then, "difference"), 1e-9);
        Assert.Contains("Other causes are possible.", _workspace.Read("out", "appendix.html"),
            StringComparison.Ordinal);

        Write(48, month => month < 24 ? 10 : 16);
        var later = await Run("2027-12-31", "2027-12");
        foreach (var figure in (string[])["before", "after", "difference"])
            Assert.Equal(then[figure].Values.Order(StringComparer.Ordinal), later[figure].Values.Order(StringComparer.Ordinal));
        Assert.False(then.ContainsKey("level"));
        Assert.Equal(4, Value(later, "level"), 1e-6);
        Assert.Equal(1, Value(later, "trend"), 1e-6);
        Assert.Equal(4, Value(later, "at_end"), 1e-6);
        Assert.Contains("tables/changes.csv", _workspace.Read("out", "datapackage.json"), StringComparison.Ordinal);
        Assert.Contains("regression to the mean", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    // 100 cases at twenty a month: five months, whatever comes after.
    [Fact]
    public async Task A_number_of_cases_may_decide_the_month()
    {
        Write(36, month => month < 24 ? 10 : 12);
        var rows = await Run("2026-12-31", "2026-12", "judged_after: 24, judged_at_cases: 100");
        Assert.Equal(("2026-05", "2026-01/2026-05", "unclear"), (rows["after"]["due"], rows["after"]["period"], rows["after"]["state"]));
        Assert.Contains("fits: neither help nor harm is shown.", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
        rows = await Run("2026-12-31", "2026-12", "judged_after: 24, judged_at_cases: 1000");
        Assert.Equal(("2027-12", "waiting"), (rows["after"]["due"], rows["after"]["state"]));
    }

    private void Write(int months, Func<int, int> met)
    {
        var rows = new StringBuilder("id,day,place,attempts,first\n");
        for (var month = 0; month < months; month++)
            for (var i = 0; i < 20; i++)
                rows.Append(CultureInfo.InvariantCulture,
                    $"r{month:D2}{i:D2},{2024 + (month / 12)}-{(month % 12) + 1:D2}-{(i % 20) + 1:D2},icu,1,"
                        + $"{(i < met(month) ? "yes" : "no")}\n");
        _workspace.Write("rows.csv", rows.ToString());
    }

    private async Task<Dictionary<string, IReadOnlyDictionary<string, string>>> Run(
        string asOf, string month, string plan = "judged_after: 12")
    {
        _workspace.Write("changes.yaml", $"- {{date: 2026-01-01, what: A bougie by every bed, measures: [measure], expect: up, {plan}, "
            + "why: It was fetched too late.}\n");
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("as_of: 2026-02-01", $"as_of: {asOf}", StringComparison.Ordinal)
            .Replace("from: 2026-01", "from: 2024-01", StringComparison.Ordinal) + "changes: changes.yaml\n");
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--month", month, "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());
        return CsvTable.Read(_workspace["out"], "tables", "changes.csv").Rows
            .ToDictionary(row => row["figure"], row => (IReadOnlyDictionary<string, string>)row.ToDictionary());
    }

    private static double Value(Dictionary<string, IReadOnlyDictionary<string, string>> rows, string figure) =>
        double.Parse(rows[figure]["value"], CultureInfo.InvariantCulture);
}
