namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>The demonstration, run once for every test that reads it.</summary>
public sealed class DemoRun : IAsyncLifetime
{
    private readonly Workspace _workspace = new();

    /// <summary>A file of its output.</summary>
    public string this[params string[] parts] => _workspace[["out", .. parts]];

    public async ValueTask InitializeAsync()
    {
        var result = await ToolProcess.Run(_workspace.Folder, "demo", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
    }

    public ValueTask DisposeAsync()
    {
        _workspace.Dispose();
        return ValueTask.CompletedTask;
    }
}
