using System.Globalization;
using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

public sealed class CommandTests
{
    private static readonly string[] Commands =
    [
        "demo", "init", "check", "run", "describe", "compute", "synthesise", "forget", "strip", "form", "meeting", "actions"
    ];

    [Fact]
    public async Task Help_names_every_command_on_standard_output()
    {
        var result = await ToolProcess.Run(Repository.Root, "--help");
        Assert.Equal(0, result.Exit);
        Assert.All(Commands, command => Assert.Contains(command, result.Output, StringComparison.Ordinal));
        Assert.Empty(result.Error);
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("init")]
    [InlineData("check")]
    [InlineData("run")]
    [InlineData("describe")]
    [InlineData("compute")]
    [InlineData("synthesise")]
    [InlineData("forget")]
    [InlineData("form")]
    [InlineData("meeting")]
    [InlineData("actions")]
    public async Task Every_command_has_help(string command)
    {
        var result = await ToolProcess.Run(Repository.Root, command, "--help");
        Assert.Equal(0, result.Exit);
        Assert.Contains(command, result.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("run", "x.yaml", "--no-such-option")]
    [InlineData("no-such-command")]
    [InlineData("run")]
    [InlineData("run", "x.yaml", "--month", "March")]
    [InlineData("compute", "no_such_statistic", "{}")]
    public async Task A_wrong_command_line_is_exit_2_with_the_reason_on_standard_error(params string[] arguments)
    {
        var result = await ToolProcess.Run(Repository.Root, arguments);
        Assert.Equal(2, result.Exit);
        Assert.NotEmpty(result.Error);
        Assert.DoesNotContain("   at ", result.Error, StringComparison.Ordinal);
    }

    // Newcombe RG. Stat Med 1998;17:857-872: the score interval of 81 out of 263, printed 0.2553 to 0.3662 (from memory).
    [Fact]
    public async Task Compute_gives_the_published_score_interval()
    {
        var result = await ToolProcess.Run(Repository.Root, "compute", "wilson", """{"met":81,"eligible":263}""");
        Assert.Equal(0, result.Exit);
        using var json = JsonDocument.Parse(result.Output);
        Assert.Equal("0.2553", Rounded(json, "lower"));
        Assert.Equal("0.3662", Rounded(json, "upper"));
    }

    [Fact]
    public async Task Compute_lists_its_statistics_with_their_inputs()
    {
        var result = await ToolProcess.Run(Repository.Root, "compute", "--list");
        Assert.Equal(0, result.Exit);
        Assert.Contains("wilson", result.Output, StringComparison.Ordinal);
        Assert.Contains("eligible", result.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Describe_prints_the_definition_that_runs()
    {
        var result = await ToolProcess.Run(Repository.Root, "describe", "first_pass");
        Assert.Equal(0, result.Exit);
        Assert.Contains("first_airway_is_intubation_attempt", result.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("attempt1_blade_shape", "Blade, attempt 1", "hyperangulated (Hyperangulated)")]
    [InlineData("hour_band", "Hours", "22-08 (22:00 to 07:59)")]
    [InlineData("complication_aspiration", "Complications: aspiration", "yes (Yes), no (No)")]
    [InlineData("intubation_attempts", "Intubation attempts, by the attempts", "the rows of the attempts")]
    [InlineData("readiness", "Readiness for difficulty", "at_risk_before")]
    public async Task Describe_knows_every_kind_of_name_that_a_pipeline_may_use(string name, string title, string detail)
    {
        var result = await ToolProcess.Run(Repository.Root, "describe", name);
        Assert.Equal(0, result.Exit);
        Assert.Contains(title, result.Output, StringComparison.Ordinal);
        Assert.Contains(detail, result.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_describe_lists_for_strata_is_accepted_there()
    {
        var list = await ToolProcess.Run(Repository.Root, "describe");
        Assert.Equal(0, list.Exit);
        string[] names = [.. Names(list.Output, "columns from attempts"), .. Names(list.Output, "derived columns"),
            .. Names(list.Output, "fields of an attempt").Where(name => name is not ("record_id" or "attempt_no" or "manoeuvre" or
                "change_from_previous")).SelectMany(name => (string[])[$"attempt1_{name}", $"attempt2_{name}"])];
        Assert.True(names.Length > 100, $"{names.Length} names");
        using var workspace = new Workspace();
        workspace.Write("rows.csv", "id,day\nr1,2025-01-10\n");
        workspace.Write("mapping.yaml", "columns:\n  record_id: {column: id}\n  event_date: {column: day, date: yyyy-MM-dd}\n");
        workspace.Write("pipeline.yaml", "name: x\nas_of: 2025-01-31\nsources: {rows: {file: rows.csv, mapping: mapping.yaml}}\n"
            + $"strata: [{string.Join(", ", names)}]\n");
        var check = await ToolProcess.Run(workspace.Folder, "check", "pipeline.yaml");
        Assert.True(check.Exit == 0, check.ToString());
    }

    // The first words of the lines under a heading; a star marks a core field.
    private static IEnumerable<string> Names(string list, string heading)
    {
        var lines = list.ReplaceLineEndings("\n").Split('\n').SkipWhile(line => !line.StartsWith(heading, StringComparison.Ordinal)).Skip(1)
            .TakeWhile(line => line.StartsWith("  ", StringComparison.Ordinal));
        return lines.Select(line => line.Trim().Split(' ')[0]).Where(name => name.Length > 0 && name[0] != '(');
    }

    private static string Rounded(JsonDocument json, string name) =>
        json.RootElement.GetProperty(name).GetDouble().ToString("F4", CultureInfo.InvariantCulture);
}
