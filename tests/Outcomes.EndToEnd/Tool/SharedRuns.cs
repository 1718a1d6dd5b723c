using System.Collections.Concurrent;

[assembly: AssemblyFixture(typeof(Outcomes.Tests.EndToEnd.Tool.SharedRuns))]

namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>
/// Runs that several tests read and none changes: each is made once, when a first test asks for it, and deleted after the last test of the
/// assembly. Fixtures of classes ask here, so that a class that is run alone makes only the runs that it reads.
/// </summary>
public sealed class SharedRuns : IDisposable
{
    private readonly ConcurrentDictionary<string, Lazy<Task<SharedRun>>> _runs = new(StringComparer.Ordinal);
    private readonly ConcurrentBag<Workspace> _workspaces = [];

    /// <summary>
    /// The run of that name: <paramref name="arguments"/> in a folder that <paramref name="create"/> makes, which must end with exit 0.
    /// </summary>
    internal Task<SharedRun> Get(string name, Func<Workspace> create, params string[] arguments) =>
        Get(name, create, ToolProcess.Unchanged, arguments);

    /// <summary>The same with changes to the environment.</summary>
    internal Task<SharedRun> Get(
        string name, Func<Workspace> create, IReadOnlyDictionary<string, string?> environment, params string[] arguments) =>
            _runs.GetOrAdd(name, _ => new(() => Make(create, environment, arguments))).Value;

    public void Dispose()
    {
        foreach (var workspace in _workspaces)
            workspace.Dispose();
    }

    private async Task<SharedRun> Make(Func<Workspace> create, IReadOnlyDictionary<string, string?> environment, string[] arguments)
    {
        var workspace = create();
        _workspaces.Add(workspace);
        var result = await ToolProcess.Run(workspace.Folder, environment, arguments);
        Assert.True(result.Exit == 0, result.ToString());
        return new(workspace, result);
    }
}

/// <summary>A folder after a run that ended well, and what the run said.</summary>
internal sealed record SharedRun(Workspace Workspace, ToolResult Result);
