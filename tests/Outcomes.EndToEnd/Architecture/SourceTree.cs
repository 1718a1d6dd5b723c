namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>The files below <c>src</c> and <c>tests</c> that a person wrote.</summary>
internal static class SourceTree
{
    // Data, definitions and fixtures are not source: a catalogue may hold as many measures as it likes.
    private static readonly HashSet<string> Source = new(StringComparer.Ordinal) { ".cs", ".py", ".R", ".sh", ".js", ".css" };

    /// <summary>Paths from the root, with forward slashes, sorted; what a build makes is left out.</summary>
    public static IReadOnlyList<string> Files(string root) =>
        [.. new[] { "src", "tests" }.Select(top => Path.Combine(root, top)).Where(Directory.Exists).SelectMany(Below)
            .Select(path => Path.GetRelativePath(root, path).Replace('\\', '/')).Order(StringComparer.Ordinal)];

    /// <summary>Folders that hold more source files than <paramref name="most"/>, those of folders below them not counted.</summary>
    public static IEnumerable<Violation> Crowded(IEnumerable<string> files, int most) =>
        files.Where(file => Source.Contains(Path.GetExtension(file)))
            .GroupBy(file => file[..file.LastIndexOf('/')]).Where(folder => folder.Count() > most)
            .Select(folder => new Violation(folder.Key, 0, $"{folder.Count()} source files"));

    private static IEnumerable<string> Below(string folder) => Directory.EnumerateFiles(folder)
        .Concat(Directory.EnumerateDirectories(folder).Where(IsWritten).SelectMany(Below));

    private static bool IsWritten(string folder) =>
        Path.GetFileName(folder) is not ("bin" or "obj" or "node_modules" or "__pycache__" or "StrykerOutput")
            && !Path.GetFileName(folder).StartsWith('.');
}
