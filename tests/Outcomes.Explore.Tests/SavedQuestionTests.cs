using System.Globalization;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Explore;

/// <summary>Questions that were saved beside a pipeline are answered by every run that names them.</summary>
public sealed class SavedQuestionTests : IDisposable
{
    private readonly Workspace _workspace = Workspace.WithShippedPipelines();

    public SavedQuestionTests() => _workspace.Write("pipelines/monthly.yaml",
        _workspace.Read("pipelines", "monthly.yaml") + "\nquestions: [questions]\n");

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_run_answers_them_in_the_appendix_with_the_figures_of_the_command()
    {
        Ask("older", "title: 'Older <patients>'\nmeasure: first_pass\nfrom: 2024-04\namong: 'age_years >= 60'\nby: [device]\n");
        Ask("ward", "measure: lowest_saturation\n");
        Assert.Equal(0, (await Run("2026-03")).Exit);
        var appendix = _workspace.Read("out", "appendix.html");
        var answered = (await ToolProcess.Run(_workspace.Folder, "explore", "pipelines/monthly.yaml", "--ask",
            "pipelines/questions/older.yaml")).Output.Split('\n')[1].Split(',');
        var part = appendix[appendix.IndexOf("id=\"question-1\"", StringComparison.Ordinal)..];
        Assert.Contains("Older &lt;patients&gt;</h2>", part, StringComparison.Ordinal);
        Assert.Contains($">{answered[10]}/{answered[11]}</td>", part, StringComparison.Ordinal);
        Assert.Contains("<a href=\"#questions\">Saved questions</a>", appendix, StringComparison.Ordinal);
        Assert.Contains("id=\"question-2\"", appendix, StringComparison.Ordinal);
        // Whoever reads the report month by month sees the question too, with the months up to then.
        Assert.Equal(0, (await Run("2025-12")).Exit);
        Assert.Contains("April\u00a02024 to December\u00a02025", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_changed_question_is_another_report_and_one_beyond_the_months_is_left_out()
    {
        Ask("older", "measure: first_pass\nto: 2026-01\namong: 'age_years >= 60'\n");
        Assert.Equal(0, (await Run("2026-03")).Exit);
        Assert.Contains("nothing has changed", (await Run("2026-03")).Error, StringComparison.Ordinal);
        Ask("older", "measure: first_pass\nto: 2026-01\namong: 'age_years >= 70'\n");
        Assert.DoesNotContain("nothing has changed", (await Run("2026-03")).Error, StringComparison.Ordinal);
        Assert.Equal(0, (await Run("2025-12")).Exit);
        Assert.DoesNotContain("Saved questions", _workspace.Read("out", "appendix.html"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("measure: nothing\n", "no measure `nothing`")]
    [InlineData("measure: first_pass\namong: 'age_years >='\n", "older.yaml:1")]
    [InlineData("measure: first_pass\nwhere: x\n", "older.yaml:2")]
    [InlineData("measure: first_pass\nfrom: 2026-13\n", "older.yaml:2")]
    [InlineData("title: x\n", "name the `measure`")]
    public async Task A_wrong_one_stops_every_command_with_its_file(string text, string said)
    {
        Ask("older", text);
        var result = await ToolProcess.Run(_workspace.Folder, "check", "pipelines/monthly.yaml");
        Assert.True(result.Exit == 3, result.Exit.ToString(CultureInfo.InvariantCulture) + result.Error);
        Assert.Contains("questions/older.yaml", result.Error, StringComparison.Ordinal);
        Assert.Contains(said, result.Error, StringComparison.Ordinal);
    }

    private void Ask(string name, string text) => _workspace.Write($"pipelines/questions/{name}.yaml", text);

    private Task<ToolResult> Run(string month) =>
        ToolProcess.Run(_workspace.Folder, "run", "pipelines/monthly.yaml", "--month", month, "--charts", "none", "--out", "out");
}
