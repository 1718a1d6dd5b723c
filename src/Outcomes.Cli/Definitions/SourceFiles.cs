using System.Globalization;
using System.IO.Enumeration;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>The files that a source of the pipeline names: one, or all that match a pattern.</summary>
internal static class SourceFiles
{
    /// <summary>
    /// Each file with the source's name, its path and its name in messages. <c>*</c> and <c>?</c> stand in the last part of a path
    /// only; the files are then sources <c>NAME/file</c>, in the ordinal order of their names, whatever the disk's order.
    /// </summary>
    /// <exception cref="Failure">No file matches (exit 4).</exception>
    public static IReadOnlyList<(string Name, string Path, string Shown)> Of(string source, string folder, string file)
    {
        var full = Path.GetFullPath(Path.Combine(folder, file));
        var pattern = Path.GetFileName(full);
        if (pattern.AsSpan().IndexOfAny('*', '?') < 0 || File.Exists(full)) return [(source, full, file)];
        var within = Path.GetDirectoryName(full)!;
        var names = Directory.Exists(within)
            ? Directory.EnumerateFiles(within).Select(path => Path.GetFileName(path)).Where(name => IsExport(name)
                && FileSystemName.MatchesSimpleExpression(pattern, name, ignoreCase: false)).Order(StringComparer.Ordinal).ToArray()
            : [];
        if (names.Length == 0)
            throw new Failure(ExitCode.Input, $"source `{source}`: no file matches; check the path and the pattern in the pipeline", file);
        var shown = file[..^pattern.Length];
        // The place among the files stands for a name that identifies a person, in the source's name as in its file's.
        return [.. names.Select(
            (name, i) => (Name: name, Safe: ShownName.Of(name, string.Create(CultureInfo.InvariantCulture, $"file {i + 1}"))))
            .Select(file => ($"{source}/{file.Safe}", Path.Combine(within, file.Name), shown + file.Safe))];
    }

    // Hidden files, and the lock files that spreadsheet programs leave beside an open workbook.
    private static bool IsExport(string name) => !name.StartsWith('.') && !name.StartsWith("~$", StringComparison.Ordinal);
}
