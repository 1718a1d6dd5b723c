using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Actions of review meetings: asked about until closed, owned by roles, closed with an effect.</summary>
public sealed class ActionsTests(DemoRun demo) : IClassFixture<DemoRun>, IDisposable
{
    private const string Actions = """
        - id: a1
          what: Put a bougie by every bed
          owner: airway lead
          due: 2026-01-20
          measure: measure
          opened: 2026-01-05
        - {id: a2, what: Move the trolley, owner: ward manager, due: 2026-03-01, opened: 2026-01-10}
        - {id: a3, what: Print the checklist, owner: lead nurse, due: 2026-01-10, opened: 2026-01-02, closed: 2026-01-09}
        - {id: a4, what: Order filters, owner: lead nurse, due: 2026-01-10, opened: 2026-01-02, closed: 2026-01-09, effect: Filters at every bed}

        """;

    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task The_report_and_check_tell_what_is_overdue_open_and_closed_without_an_effect()
    {
        Assert.Equal(0, (await Tool(Actions, "run", "pipeline.yaml", "--charts", "none", "--out", "out")).Exit);
        var report = _workspace.Read("out", "appendix.html").Replace('\u00a0', ' ');
        Assert.Contains("2 actions are open, 1 overdue: Put a bougie by every bed (by 12 days). One is closed without its effect.", report,
            StringComparison.Ordinal);
        Assert.Contains("overdue by 12 days", report, StringComparison.Ordinal);
        Assert.Contains("Closed without an effect, a3", report, StringComparison.Ordinal);
        Assert.Contains("Effect: Filters at every bed", report, StringComparison.Ordinal);
        var check = await Tool(Actions, "check", "pipeline.yaml");
        Assert.Equal(0, check.Exit);
        Assert.Contains("overdue by 12 days: a1, Put a bougie by every bed (airway lead), 27 days old", check.Output,
            StringComparison.Ordinal);
        Assert.Contains("closed without an effect: a3", check.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_demonstration_follows_the_actions_of_an_earlier_meeting_and_repeats_what_it_learned()
    {
        var report = File.ReadAllText(demo["report.html"]).Replace('\u00a0', ' ');
        Assert.Contains("2025-10-GCEQL2-1: Make a card of what the person at the clock calls out", report, StringComparison.Ordinal);
        Assert.Matches("Keep vasopressors in the first drawer of every airway trolley</th>(<td>[^<]+</td>){3}"
            + "<td>[+−]?[0-9.]+ percentage points \\([^)]+ to [^)]+\\)</td>", report);
        Assert.Contains("about October 2025, wrote 2 learning points.", File.ReadAllText(demo["appendix.html"]).Replace('\u00a0', ' '),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Counts_before_and_after_an_action_stand_with_their_difference_and_its_interval()
    {
        var result = await ToolProcess.Run(_workspace.Folder, "synthesise", "--procedures", "600", "--seed", "5", "--out", "in");
        Assert.True(result.Exit == 0, result.ToString());
        _workspace.Write("in/actions.yaml", "- {id: a1, what: Do it, owner: airway lead, due: 2025-10-01, measure: first_pass, "
            + "opened: 2025-07-10, closed: 2025-10-01, effect: Done}\n");
        result = await ToolProcess.Run(_workspace.Folder, "run", "in/pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
        var (before, after) = (Counted("2025-01", "2025-06"), Counted("2025-11", "2026-03"));
        var points = 100 * (((double)after.Met / after.Eligible) - ((double)before.Met / before.Eligible));
        var report = _workspace.Read("out", "report.html").Replace('\u00a0', ' ');
        var followed = report[report.IndexOf("t-followed", StringComparison.Ordinal)..];
        Assert.Matches($">{before.Met}/{before.Eligible} in January 2025 to June 2025[^<]*</td><td>{after.Met}/{after.Eligible} in "
            + $"November 2025 to March 2026[^<]*</td><td>[+−]?{Math.Abs(points):F1} percentage points \\([+−]?[0-9.]+ to "
            + $"[+−]?[0-9.]+\\)</td>",
            followed);
        Assert.Contains("for context, no verdict", followed, StringComparison.Ordinal);
        Assert.Contains("Months that stand out are followed by usual ones, with or without an action.", followed, StringComparison.Ordinal);
    }

    private (int Met, int Eligible) Counted(string from, string to)
    {
        var rows = CsvTable.Read(_workspace["out", "tables", "counts.csv"]).Rows.Where(row => row["measure"] == "first_pass"
            && row["stratum"] == "all" && row["period"].Length == 7 && string.CompareOrdinal(row["period"], from) >= 0
            && string.CompareOrdinal(row["period"], to) <= 0).ToArray();
        return (rows.Sum(row => int.Parse(row["met"], null)), rows.Sum(row => int.Parse(row["eligible"], null)));
    }

    [Theory]
    [InlineData("owner: airway lead", "owner: Dr Ann Example", "actions.yaml:3", "role")]
    [InlineData("owner: airway lead", "owner: Ann Example", "actions.yaml:3", "role")]
    [InlineData("owner: airway lead", "owner: ann@example.org", "actions.yaml:3", "role")]
    [InlineData("measure: measure", "measure: mesure", "actions.yaml:5", "mesure")]
    [InlineData("due: 2026-01-20", "due: 20/01/2026", "actions.yaml:4", "2026-03-31")]
    [InlineData("id: a2", "id: a1", "actions.yaml:7", "twice")]
    public async Task A_wrong_action_is_exit_3_naming_file_and_line(string right, string wrong, params string[] said)
    {
        var result = await Tool(Actions.Replace(right, wrong, StringComparison.Ordinal), "check", "pipeline.yaml");
        Assert.Equal(3, result.Exit);
        Assert.All(said, part => Assert.Contains(part, result.Error, StringComparison.Ordinal));
    }

    private Task<ToolResult> Tool(string actions, params string[] arguments)
    {
        _workspace.Write("actions.yaml", actions);
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "actions: actions.yaml\n");
        return ToolProcess.Run(_workspace.Folder, arguments);
    }
}
