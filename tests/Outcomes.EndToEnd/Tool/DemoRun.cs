namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>The demonstration, run once for every test that reads it.</summary>
public sealed class DemoRun(SharedRuns runs) : IAsyncLifetime
{
    private SharedRun? _run;

    /// <summary>A file of its output, which goes to <c>outcomes-demo</c> where nothing else is said.</summary>
    public string this[params string[] parts] => Run.Workspace[["outcomes-demo", .. parts]];

    /// <summary>What it said on standard output.</summary>
    public string Output => Run.Result.Output;

    private SharedRun Run => _run ?? throw new InvalidOperationException("The demonstration has not been run.");

    public async ValueTask InitializeAsync() => _run = await runs.Get("demo", () => new Workspace(), "demo");

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}
