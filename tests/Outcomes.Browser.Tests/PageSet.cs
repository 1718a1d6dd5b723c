using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Browser;

/// <summary>One of each page that the tool writes, made once: the demonstration's report and cases, a report for a network, and the form on screen and on paper.</summary>
public sealed class PageSet : IAsyncLifetime
{
    private readonly Workspace _workspace = Workspace.WithShippedPipelines();

    public string this[string page] => page == "network.html" ? _workspace["network", "report.html"] : page is "form.html" or "paper.html" ? _workspace[page] : _workspace["demo", page];

    public async ValueTask InitializeAsync()
    {
        await Run("demo", "--out", "demo");
        await Run("form", "--out", "form.html", "--paper", "paper.html");
        _workspace.Write("pipelines/network.yaml", _workspace.Read("pipelines", "monthly.yaml").Replace("audience: department", "audience: network", StringComparison.Ordinal));
        await Run("run", "pipelines/network.yaml", "--out", "network", "--charts", "none");
    }

    public ValueTask DisposeAsync()
    {
        _workspace.Dispose();
        return ValueTask.CompletedTask;
    }

    private async Task Run(params string[] arguments)
    {
        var result = await ToolProcess.Run(_workspace.Folder, arguments);
        Assert.True(result.Exit == 0, result.ToString());
    }
}
