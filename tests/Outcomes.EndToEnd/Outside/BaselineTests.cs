using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The same job by an independent program (an SQL engine's own reader and hand-written SQL), figure by figure. The programs lie
/// outside the project; without them the test says so.
/// </summary>
public sealed class BaselineTests
{
    private static string Programs => Repository.InRoot("..", "shared", "baselines");

    [Fact]
    public async Task Every_count_interval_and_run_chart_is_that_of_an_independent_program()
    {
        Assert.SkipUnless(File.Exists(Path.Combine(Programs, "SPEC.md")), "the comparison programs (../shared/baselines) are not here");
        using var kept = new Workspace();
        var environment = new Dictionary<string, string?>
        {
            ["OUTCOMES"] = Path.Combine(Repository.ToolFolder, "outcomes.dll"),
            ["KEEP"] = kept.Folder,
        };
        var script = Repository.InRoot("tests", "baseline", "run.sh");
        var result = await ToolProcess.Start("bash", Repository.Root, environment, script, Programs, "500", "50000");
        Assert.True(result.Exit == 0, result.ToString());

        // A comparison that cannot fail shows nothing: one figure changed must be seen.
        var table = kept["ours-500", "tables", "estimates.csv"];
        var text = await File.ReadAllTextAsync(table, TestContext.Current.CancellationToken);
        var lastDigit = text.IndexOf("m01_first_pass,2025-01,all,all,0.77", StringComparison.Ordinal);
        Assert.True(lastDigit > 0, "the row to be changed is not there");
        await File.WriteAllTextAsync(table, text.Replace("m01_first_pass,2025-01,all,all,0.77", "m01_first_pass,2025-01,all,all,0.78",
            StringComparison.Ordinal), TestContext.Current.CancellationToken);
        var changed = await ToolProcess.Start("python3", Repository.Root, environment,
            Repository.InRoot("tests", "baseline", "compare.py"), kept["ours-500"], kept["theirs-500"]);
        Assert.Equal(1, changed.Exit);
        Assert.Contains("intervals: 1 differences", changed.Output, StringComparison.Ordinal);
    }
}
