using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Declared changes: a wrong one is named with file and line, a right one stands on the page and in the chart.</summary>
public sealed class ChangesTests : IDisposable
{
    private const string Change = """
        - date: 2026-01-15
          what: A bougie by every bed <b>
          measures: [measure]
          expect: up
          judged_after: 12
          why: It was fetched too late.

        """;

    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Theory]
    [InlineData("measures: [measure]", "measures: [mesure]", "changes.yaml:3", "mesure")]
    [InlineData("measures: [measure]", "measures: []", "changes.yaml:3", "at least one")]
    [InlineData("expect: up", "expect: better", "changes.yaml:4", "up, down, same")]
    [InlineData("  judged_after: 12\n", "", "changes.yaml:1", "judged_after")]
    [InlineData("judged_after: 12", "judged_after: 3", "changes.yaml:5", "6 to 24")]
    [InlineData("judged_after: 12", "judged_after: 12\n  judged_at_cases: 10", "changes.yaml:6", "40 to 10000")]
    [InlineData("date: 2026-01-15", "date: 15/01/2026", "changes.yaml:1", "2026-03-31")]
    [InlineData("why: It", "because: It", "changes.yaml:6", "because")]
    public async Task A_wrong_change_is_exit_3_naming_file_and_line(string right, string wrong, params string[] said)
    {
        var result = await Run(Change.Replace(right, wrong, StringComparison.Ordinal));
        Assert.Equal(3, result.Exit);
        Assert.All(said, part => Assert.Contains(part, result.Error, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_fourth_evaluation_within_twelve_months_is_refused_and_a_later_one_is_not()
    {
        string Entry(string date) => Change.Replace("2026-01-15", date, StringComparison.Ordinal);
        var three = Entry("2025-03-01") + Entry("2025-06-01") + Entry("2025-09-01");
        var result = await Run(three + Entry("2026-02-01"));
        Assert.Equal(3, result.Exit);
        Assert.Contains("changes.yaml:21: more than 3 changes would be evaluated in the 12 months that end with 2027-01", result.Error,
            StringComparison.Ordinal);
        Assert.Equal(0, (await Run(three + Entry("2026-03-01"))).Exit);
    }

    [Fact]
    public async Task A_change_is_drawn_with_its_date_and_told_to_listeners_and_its_text_does_not_act()
    {
        var result = await Run(Change);
        Assert.True(result.Exit == 0, result.ToString());
        var chart = await File.ReadAllTextAsync(_workspace["out", "charts", "measure.svg"], TestContext.Current.CancellationToken);
        Assert.Contains("Declared change on 15", chart, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>", chart, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_date_that_was_moved_after_a_report_is_printed_and_one_that_stands_is_not()
    {
        await Month("2026-01", Change);
        await Month("2026-02", Change);
        Assert.DoesNotContain("was moved", _workspace.Read("sets", "2026-02", "appendix.html"), StringComparison.Ordinal);
        await Month("2026-03", Change.Replace("judged_after: 12", "judged_after: 18\n  judged_at_cases: 150", StringComparison.Ordinal));
        Assert.Contains("The evaluation of the change of 15 January 2026 was moved after the report of February 2026: from 12 months to 18 "
            + "months or 150 cases.", _workspace.Read("sets", "2026-03", "appendix.html").Replace('\u00a0', ' '), StringComparison.Ordinal);

        async Task Month(string month, string changes)
        {
            _workspace.Write("changes.yaml", changes);
            _workspace.Write("pipeline.yaml",
                TinyPipeline.Pipeline.Replace("as_of: 2026-02-01", "as_of: 2026-04-01", StringComparison.Ordinal)
                    + "changes: changes.yaml\n");
            var result = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--month", month, "--out", $"sets/{month}",
                "--charts", "none");
            Assert.True(result.Exit == 0, result.ToString());
        }
    }

    private Task<ToolResult> Run(string changes)
    {
        _workspace.Write("changes.yaml", changes);
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "changes: changes.yaml\n");
        return ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "all");
    }
}
