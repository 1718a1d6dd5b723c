namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>Where things lie: found from the test assembly, so that a clone may stand anywhere.</summary>
internal static class Repository
{
    /// <summary>The folder that holds <c>Outcomes.sln</c>.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>The folder that the command line was built into, of the same configuration as these tests.</summary>
    public static string ToolFolder { get; } = InRoot("src", "Outcomes.Cli", "bin", BuildFolders());

    public static string InRoot(params string[] parts) => Path.Combine([Root, .. parts]);

    private static string FindRoot()
    {
        for (var folder = AppContext.BaseDirectory; folder is not null; folder = Path.GetDirectoryName(folder))
            if (File.Exists(Path.Combine(folder, "Outcomes.sln")))
                return folder;
        throw new InvalidOperationException($"No Outcomes.sln above {AppContext.BaseDirectory}.");
    }

    /// <summary>The last two folders of the output path, such as <c>Release/net10.0</c>.</summary>
    private static string BuildFolders()
    {
        var framework = new DirectoryInfo(AppContext.BaseDirectory.TrimEnd(Path.DirectorySeparatorChar));
        return Path.Combine(framework.Parent!.Name, framework.Name);
    }
}
