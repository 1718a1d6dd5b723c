using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>What a declared change did, in the table and on the page.</summary>
public sealed class ChangeTableTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_step_without_a_trend_has_the_odds_ratio_of_the_two_halves_and_says_what_it_cannot_rule_out()
    {
        // Ten a month: 5 met each month of 2024, 8 each month of 2025. Odds 1 and 4, no trend on either side: level 4, trends 1.
        var rows = new StringBuilder("id,day,place,attempts,first\n");
        for (var month = 0; month < 24; month++)
            for (var i = 0; i < 10; i++)
                rows.Append(CultureInfo.InvariantCulture, $"r{month:D2}{i},{2024 + (month / 12)}-{(month % 12) + 1:D2}-{i + 10},icu,1,"
                    + $"{(i < (month < 12 ? 5 : 8) ? "yes" : "no")}\n");
        _workspace.Write("rows.csv", rows.ToString());
        _workspace.Write("changes.yaml",
            "- {date: 2025-01-01, what: A bougie by every bed, measures: [measure], expect: up, why: It was fetched too late.}\n");
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("as_of: 2026-02-01", "as_of: 2025-12-31", StringComparison.Ordinal)
            .Replace("from: 2026-01", "from: 2024-01", StringComparison.Ordinal) + "changes: changes.yaml\n");
        var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Assert.True(result.Exit == 0, result.ToString());

        var figures = CsvTable.Read(_workspace["out"], "tables", "changes.csv").Rows.ToDictionary(row => row["figure"]);
        Assert.Equal(("60", "120", "2024-01/2024-12"),
            (figures["before"]["met"], figures["before"]["eligible"], figures["before"]["period"]));
        Assert.Equal(("96", "120", "2025-01/2025-12"), (figures["after"]["met"], figures["after"]["eligible"], figures["after"]["period"]));
        Assert.Equal(0.3, Value("difference"), 1e-9);
        Assert.Equal(4, Value("level"), 1e-6);
        Assert.Equal(1, Value("trend"), 1e-6);
        Assert.Equal(1, Value("trend_before"), 1e-6);
        Assert.Equal(4, Value("at_end"), 1e-6);
        Assert.Equal("", figures["level"]["doubts"]);
        Assert.Contains("tables/changes.csv", _workspace.Read("out", "datapackage.json"), StringComparison.Ordinal);
        var page = _workspace.Read("out", "report.html");
        Assert.Contains("regression to the mean", page, StringComparison.Ordinal);
        Assert.Contains("4.00 (", page, StringComparison.Ordinal);

        double Value(string figure) => double.Parse(figures[figure]["value"], CultureInfo.InvariantCulture);
    }
}
