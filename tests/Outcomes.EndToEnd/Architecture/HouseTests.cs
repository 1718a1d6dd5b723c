using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>
/// The limits that keep the sources readable. Each test's message lists every place that breaks one.
/// </summary>
public sealed class HouseTests
{
    private const int FilesInAFolder = 25;
    private const int LinesOfAMethod = 60;
    private const int Parameters = 7;
    private const int Characters = 140;

    private static readonly Lazy<IReadOnlyList<SourceFile>> Sources = new(() => SourceFile.All(Repository.Root));

    [Fact]
    public void No_folder_has_more_than_25_source_files() =>
        None("folder", SourceTree.Crowded(SourceTree.Files(Repository.Root), FilesInAFolder));

    [Fact]
    public void No_method_has_more_than_60_lines() =>
        None("method length", Sources.Value.SelectMany(file => Methods.TooLong(file, LinesOfAMethod)));

    [Fact]
    public void No_method_has_more_than_7_parameters() =>
        None("parameters", Sources.Value.SelectMany(file => Methods.TooManyParameters(file, Parameters)));

    [Fact]
    public void No_line_has_more_than_140_characters() =>
        None("line length", Sources.Value.SelectMany(file => Lines.TooLong(file, Characters)));

    [Fact]
    public void No_folders_of_a_project_name_each_other_in_a_circle() =>
        None("circle", Sources.Value.GroupBy(file => file.Project).SelectMany(project =>
            FolderGraph.Cycles(project.Key, FolderGraph.Imports([.. project], Projects.References(project.Key)))));

    [Fact]
    public void Every_source_file_has_a_type_of_its_name() =>
        None("file name", Sources.Value.Where(file => file.Path.StartsWith("src/", StringComparison.Ordinal)).SelectMany(Lines.Misnamed));

    [Fact]
    public void The_sources_of_every_project_are_read() => Assert.Empty(
        Directory.EnumerateFiles(Repository.InRoot("src"), "*.csproj", SearchOption.AllDirectories)
            .Select(path => $"src/{Path.GetFileNameWithoutExtension(path)}").Except(Sources.Value.Select(file => file.Project)));

    private static void None(string limit, IEnumerable<Violation> violations)
    {
        var found = violations.ToArray();
        Assert.True(found.Length == 0, $"places that break a limit ({limit}):\n{Violation.List(found)}");
    }
}
