using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Browser;

/// <summary>
/// The shipped form on screen and on paper with its mapping, written once for all tests that do not write one of their own.
/// </summary>
public sealed class FormPages(SharedRuns runs) : IAsyncLifetime
{
    private SharedRun? _run;

    public string this[string file] => (_run ?? throw new InvalidOperationException("No form has been written.")).Workspace[file];

    public async ValueTask InitializeAsync() => _run =
        await runs.Get("form", () => new Workspace(), "form", "--out", "form.html", "--paper", "paper.html", "--mapping", "form.yaml");

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}
