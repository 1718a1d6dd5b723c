using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Browser;

/// <summary>
/// One of each page that the tool writes, made once for all tests: the demonstration's report and cases, a report for a network, the
/// form on screen and on paper, and a meeting.
/// </summary>
public sealed class PageSet(SharedRuns runs) : IAsyncLifetime
{
    private readonly FormPages _forms = new(runs);
    private Workspace? _demo, _network, _meeting;

    public string this[string page] => page switch
    {
        "form.html" or "paper.html" => _forms[page],
        "meeting.html" => Made(_meeting)["meeting.html"],
        "network.html" => Made(_network)["network", "report.html"],
        _ => Made(_demo)["demo", page],
    };

    public async ValueTask InitializeAsync()
    {
        await _forms.InitializeAsync();
        _demo = (await runs.Get("demo", () => new Workspace(), "demo", "--out", "demo")).Workspace;
        _meeting = (await runs.Get("meeting", Workspace.WithShippedPipelines, "meeting", "pipelines/monthly.yaml", "--out", "meeting.html"))
            .Workspace;
        _network = (await runs.Get("network", Network, "run", "pipelines/network.yaml", "--out", "network", "--charts", "none")).Workspace;
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    private static Workspace Network()
    {
        var workspace = Workspace.WithShippedPipelines();
        workspace.Write("pipelines/network.yaml", workspace.Read("pipelines", "monthly.yaml")
            .Replace("audience: department", "audience: network", StringComparison.Ordinal));
        return workspace;
    }

    private static Workspace Made(Workspace? workspace) =>
        workspace ?? throw new InvalidOperationException("The pages have not been made.");
}
