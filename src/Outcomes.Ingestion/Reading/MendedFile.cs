using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using CsvHelper;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>
/// A <c>quarantine.csv</c> that a person has mended: three columns say where each row came from, the others are the row's own.
/// </summary>
public static class MendedFile
{
    /// <summary>The columns before the row's own.</summary>
    public static readonly ImmutableArray<string> Columns = ["origin", "line", "reasons"];

    /// <summary>The headings with those three out of a mapping's sight, so that a column of the export may bear such a name too.</summary>
    /// <exception cref="Failure">They are not there (exit 4).</exception>
    public static ImmutableArray<string> OwnHeadings(ImmutableArray<string> headings, string file) =>
        headings.Length > Columns.Length && headings.AsSpan()[..Columns.Length].SequenceEqual(Columns.AsSpan())
            ? [.. Columns.Select(_ => ""), .. headings.Skip(Columns.Length).Select(FormulaGuard.Off)]
            : throw new Failure(ExitCode.Input, $"not a mended quarantine file: its first columns must be {string.Join(", ", Columns)}, "
                + "as this tool wrote them", file, 1, "not_quarantine");

    /// <summary>Whether the row came from the source that is read, and the line it had there; 0 where that cell is no line.</summary>
    /// <exception cref="Failure">It came from no file of the pipeline (exit 4): it would be lost without a word.</exception>
    internal static (bool Mine, int Line) Origin(CsvReader reader, MendedOrigin mends, string file, int line)
    {
        var origin = Encoding.UTF8.GetString(FormulaGuard.Off(reader.GetSpan(0))).Trim();
        if (origin == mends.File)
            return (true, reader.FieldCount > 1 && int.TryParse(Encoding.UTF8.GetString(reader.GetSpan(1)),
                NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var number)
                ? number
                : 0);
        return mends.Files.Contains(origin)
            ? (false, 0)
            : throw new Failure(ExitCode.Input, "the row's `origin` is no file of this pipeline; "
                + "write it as the pipeline names the source, or remove the row", file, line, "unknown_origin");
    }
}
