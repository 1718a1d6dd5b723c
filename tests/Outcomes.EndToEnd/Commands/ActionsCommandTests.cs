using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary><c>outcomes actions</c>: lists, closes and exports what review meetings decided.</summary>
public sealed class ActionsCommandTests : IDisposable
{
    private const string Actions = """
        # What we decided.
        - id: bougie
          what: Put a bougie by every bed
          owner: airway lead
          due: 2026-01-20
          measure: measure
          opened: 2026-01-05   # at the first meeting
        """;

    private const string Minutes = """
        {"format": "outcomes-minutes", "version": 1, "pipeline": "tiny", "month": "2026-01", "held": "2026-02-01", "actions": [
         {"id": "2026-01-ABCDEF-1", "cases": ["ABCDEF"], "what": "=HYPERLINK(\"x\") <script>alert(1)</script>", "owner": "lead nurse",
          "due": "2026-02-01", "measure": "measure", "measure_by": "2026-06-01"}]}
        """;

    private readonly Workspace _workspace = TinyPipeline.Create();

    public ActionsCommandTests()
    {
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "actions: actions.yaml\nminutes: minutes\n");
        _workspace.Write("actions.yaml", Actions);
        _workspace.Write("minutes/january.json", Minutes);
    }

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task It_lists_both_kinds_without_needing_the_records()
    {
        File.Delete(_workspace["rows.csv"]);
        var list = await Tool();
        Assert.True(list.Exit == 0, list.ToString());
        Assert.Contains("2026-01-ABCDEF-1", list.Output, StringComparison.Ordinal);
        Assert.Contains("2 actions are open, 1 overdue: Put a bougie by every bed (by 12 days).", list.Output, StringComparison.Ordinal);
        using var json = JsonDocument.Parse((await Tool("--json")).Output);
        Assert.Equal([("bougie", "overdue"), ("2026-01-ABCDEF-1", "open")], json.RootElement.EnumerateArray()
            .Select(each => (each.GetProperty("action_id").GetString()!, each.GetProperty("state").GetString()!)));
    }

    [Theory]
    [InlineData("", "No action. Name a file under `actions:`")]
    [InlineData("- {id: a, what: Do it, owner: lead nurse, due: 2026-03-01, opened: 2026-01-05}", "1 action is open, none overdue.")]
    public async Task None_and_one_are_told_in_their_own_words(string actions, string said)
    {
        _workspace.Write("actions.yaml", actions);
        File.Delete(_workspace["minutes", "january.json"]);
        Assert.Contains(said, (await Tool()).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Closing_writes_into_the_file_of_actions_and_the_next_run_tells_the_effect()
    {
        Assert.Equal(0, (await Run()).Exit);
        Assert.Contains("2 actions are open", _workspace.Read("out", "report.html").Replace('\u00a0', ' '), StringComparison.Ordinal);
        Assert.Equal(0, (await Tool("--close", "bougie", "--on", "2026-01-25", "--effect", "By every bed")).Exit);
        Assert.Equal(0, (await Tool("--close", "2026-01-ABCDEF-1", "--on", "2026-02-01", "--effect", "+Done")).Exit);
        Assert.Equal(Actions + "\n  closed: 2026-01-25\n  effect: \"By every bed\"\n\n- closes: 2026-01-ABCDEF-1\n  closed: 2026-02-01\n"
            + "  effect: \"+Done\"\n", _workspace.Read("actions.yaml"));
        Assert.Equal(["january.json"], Workspace.FilesIn(_workspace["minutes"]));
        Assert.Equal(0, (await Run()).Exit);
        var report = _workspace.Read("out", "report.html").Replace('\u00a0', ' ');
        Assert.Contains("No action is open.", report, StringComparison.Ordinal);
        Assert.Contains("Effect: By every bed", report, StringComparison.Ordinal);
        // Only January has records: the month of deciding stands on neither side, so there is no month before, and none after yet.
        Assert.Contains("<td>no whole month</td>", report, StringComparison.Ordinal);
        Assert.Contains("for context, no verdict", report, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_table_has_every_action_and_guards_what_a_spreadsheet_would_run()
    {
        Assert.Equal(0, (await Tool("--csv", "actions.csv")).Exit);
        var rows = CsvTable.Read(_workspace["actions.csv"]).Rows.ToList();
        Assert.Equal(["bougie", "2026-01-ABCDEF-1"], rows.Select(row => row["action_id"]));
        Assert.StartsWith("'=HYPERLINK", rows[1]["what"], StringComparison.Ordinal);
        Assert.Equal(("ABCDEF", "2026-06-01", "open"), (rows[1]["cases"], rows[1]["measure_by"], rows[1]["state"]));
        var again = await Tool("--csv", "actions.csv");
        Assert.Equal(5, again.Exit);
    }

    [Fact]
    public async Task Minutes_that_came_since_the_last_run_are_in_the_next_one()
    {
        Assert.Equal(0, (await Run()).Exit);
        Assert.Contains("nothing has changed", (await Run()).Error, StringComparison.Ordinal);
        _workspace.Write("minutes/more.json", Minutes.Replace("ABCDEF-1", "ABCDEF-2", StringComparison.Ordinal));
        var run = await Run();
        Assert.DoesNotContain("nothing has changed", run.Error, StringComparison.Ordinal);
        var report = _workspace.Read("out", "report.html").Replace('\u00a0', ' ');
        Assert.Contains("3 actions are open", report, StringComparison.Ordinal);
        Assert.DoesNotContain("<script>", report, StringComparison.Ordinal);
        Assert.Contains("&lt;script&gt;alert(1)", report, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2, "--effect is missing", "--close", "bougie", "--on", "2026-01-25")]
    [InlineData(2, "did you mean `bougie`", "--close", "bougi", "--effect", "x")]
    [InlineData(2, "before the action was decided", "--close", "bougie", "--on", "2026-01-04", "--effect", "x")]
    [InlineData(2, "--on is a date", "--close", "bougie", "--on", "25/01/2026", "--effect", "x")]
    [InlineData(2, "identifies a person", "--close", "bougie", "--effect", "Mr Secretword Jones is well")]
    [InlineData(2, "belong to --close", "--effect", "x")]
    public async Task A_wrong_closing_is_refused_and_leaves_the_file_as_it_is(int exit, string said, params string[] options)
    {
        var result = await Tool(options);
        Assert.Equal(exit, result.Exit);
        Assert.Contains(said, result.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("Secretword", result.Error, StringComparison.Ordinal);
        Assert.Equal(Actions, _workspace.Read("actions.yaml"));
    }

    [Fact]
    public async Task An_action_is_closed_once_and_an_effect_that_was_not_said_can_be_added()
    {
        _workspace.Write("actions.yaml", Actions + "\n  closed: 2026-01-22\n");
        Assert.Equal(0, (await Tool("--close", "bougie", "--effect", "By every bed")).Exit);
        Assert.EndsWith("  closed: 2026-01-22\n  effect: \"By every bed\"\n", _workspace.Read("actions.yaml"), StringComparison.Ordinal);
        var again = await Tool("--close", "bougie", "--effect", "More");
        Assert.Equal(2, again.Exit);
        Assert.Contains("was closed on 2026-01-22", again.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_file_of_actions_a_closing_of_minutes_says_that_one_is_needed()
    {
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "minutes: minutes\n");
        var result = await Tool("--close", "2026-01-ABCDEF-1", "--effect", "Done");
        Assert.Equal(2, result.Exit);
        Assert.Contains("`actions: actions.yaml`", result.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_pipeline_for_others_gets_no_list_with_exit_2()
    {
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "actions: actions.yaml\naudience: network\n");
        var result = await Tool();
        Assert.Equal((2, ""), (result.Exit, result.Output));
    }

    [Fact]
    public async Task A_link_to_the_file_of_actions_stays_a_link_and_its_mode_stays()
    {
        if (OperatingSystem.IsWindows())
        {
            Assert.Skip("links need rights there");
            return;
        }

        _workspace.Write("kept/real.yaml", Actions);
        File.SetUnixFileMode(_workspace["kept", "real.yaml"], UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead);
        File.Delete(_workspace["actions.yaml"]);
        File.CreateSymbolicLink(_workspace["actions.yaml"], _workspace["kept", "real.yaml"]);
        Assert.Equal(0, (await Tool("--close", "bougie", "--effect", "By every bed")).Exit);
        Assert.NotNull(new FileInfo(_workspace["actions.yaml"]).LinkTarget);
        Assert.Contains("effect: \"By every bed\"", _workspace.Read("kept", "real.yaml"), StringComparison.Ordinal);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead,
            File.GetUnixFileMode(_workspace["kept", "real.yaml"]));
        Assert.Equal(["real.yaml"], Directory.EnumerateFileSystemEntries(_workspace["kept"]).Select(Path.GetFileName));
    }

    private Task<ToolResult> Run() => ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");

    private Task<ToolResult> Tool(params string[] more) => ToolProcess.Run(_workspace.Folder, ["actions", "pipeline.yaml", .. more]);
}
