namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>A place that breaks a limit of the house.</summary>
/// <param name="File">Path from the repository's root, with forward slashes.</param>
/// <param name="Line">1-based; 0 for a folder or a file as a whole.</param>
/// <param name="What">What is wrong there.</param>
internal readonly record struct Violation(string File, int Line, string What)
{
    public override string ToString() => Line > 0 ? $"{File}:{Line}: {What}" : $"{File}: {What}";

    /// <summary>All of them, sorted, below a first line that counts them by project; empty when there are none.</summary>
    public static string List(IEnumerable<Violation> violations)
    {
        var sorted = violations.OrderBy(one => one.File, StringComparer.Ordinal).ThenBy(one => one.Line)
            .ThenBy(one => one.What, StringComparer.Ordinal).ToList();
        if (sorted.Count == 0) return "";
        var projects = sorted.GroupBy(one => ProjectOf(one.File)).Select(group => $"{group.Key} {group.Count()}");
        return $"{sorted.Count} in all: {string.Join(", ", projects)}\n{string.Join('\n', sorted)}";
    }

    private static string ProjectOf(string file) => string.Join('/', file.Split('/').Take(2));
}
