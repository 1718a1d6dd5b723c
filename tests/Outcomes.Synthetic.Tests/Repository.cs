namespace Outcomes.Tests;

/// <summary>Files of the repository, found from the built tests upwards.</summary>
internal static class Repository
{
    public static string Root { get; } = FindRoot();

    public static string PathOf(string relative) => Path.Combine(Root, relative.Replace('/', Path.DirectorySeparatorChar));

    private static string FindRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("Outcomes.sln is in no folder above the tests.");
    }
}
