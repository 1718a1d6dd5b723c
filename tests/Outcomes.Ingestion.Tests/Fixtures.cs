namespace Outcomes.Tests.Ingestion;

internal static class Fixtures
{
    /// <summary>tests/fixtures, found upward from the built test.</summary>
    public static string Folder => Path.Combine(Tests, "fixtures");

    /// <summary>tests, found upward from the built test.</summary>
    public static string Tests { get; } = Find();

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
                return Path.Combine(folder.FullName, "tests");
        throw new DirectoryNotFoundException("the tests' folder is not above the built test");
    }
}
