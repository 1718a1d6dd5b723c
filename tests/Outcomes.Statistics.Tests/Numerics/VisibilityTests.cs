namespace Outcomes.Tests;

/// <summary>The numerical routines serve the other statistics only: other assemblies cannot see them.</summary>
public class VisibilityTests
{
    [Fact]
    public void No_type_in_the_Numerics_folder_is_public()
    {
        var files = Directory.GetFiles(Path.Combine(Root(), "src", "Outcomes.Statistics", "Numerics"), "*.cs");
        Assert.True(files.Length >= 10, $"{files.Length} files in Numerics");
        Assert.DoesNotContain(files, file => File.ReadLines(file).Any(line => line.StartsWith("public ", StringComparison.Ordinal)));
    }

    private static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
                return folder.FullName;
        throw new FileNotFoundException($"no Outcomes.sln above {AppContext.BaseDirectory}");
    }
}
