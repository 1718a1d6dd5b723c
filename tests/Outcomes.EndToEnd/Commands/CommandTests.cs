using System.Globalization;
using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

public sealed class CommandTests
{
    private static readonly string[] Commands =
    [
        "demo", "init", "check", "run", "describe", "compute", "synthesise", "forget", "strip", "form"
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

    private static string Rounded(JsonDocument json, string name) =>
        json.RootElement.GetProperty(name).GetDouble().ToString("F4", CultureInfo.InvariantCulture);
}
