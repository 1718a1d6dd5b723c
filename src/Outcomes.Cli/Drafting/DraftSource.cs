using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Records;

namespace Outcomes.Cli.Drafting;

/// <summary>A table that a mapping is drafted for.</summary>
/// <param name="Path">Where its file is.</param>
/// <param name="Sample">Its headings and first rows.</param>
/// <param name="Attempts">True when its rows are attempts.</param>
/// <param name="OtherSheets">Sheets of the same workbook that could be meant as well.</param>
public sealed record DraftSource(string Path, ExportSample Sample, bool Attempts, ImmutableArray<string> OtherSheets)
{
    private const double Clear = 0.85;

    /// <summary>The tables of one export: one, or two where a workbook holds records and attempts on two sheets.</summary>
    /// <param name="path">Where the export is.</param>
    /// <param name="sheet">The sheet that the person named; null leaves the choice.</param>
    /// <param name="vocabulary">Names of fields.</param>
    /// <exception cref="Failure">The file cannot be read or is refused (exit 4), or has no such sheet (exit 2).</exception>
    public static IEnumerable<DraftSource> Of(string path, string? sheet, Vocabulary vocabulary)
    {
        if (ShownName.Trips(System.IO.Path.GetFileName(path)))
            throw new Failure(ExitCode.Input, "the name of an export looks like an identifier of a person; give the file another name",
                rule: "identifying_file_name");
        var tables = ExportSample.Sheets(path, path);
        if (tables.Length == 0) return [Read(path, null, [], vocabulary)];
        if (sheet is not null)
            return tables.Any(table => table.Name == sheet)
                ? [Read(path, sheet, [], vocabulary)]
                : throw new Failure(ExitCode.Usage, "--sheet: the workbook has no visible sheet of that name that holds a table; "
                    + $"it has {string.Join(", ", tables.Select(Shown))}", path);
        if (tables.Length == 1) return [Read(path, Named(tables[0], path), [], vocabulary)];
        return Choose(path, tables, vocabulary);
    }

    // A sheet is clearly the one when it has twice as many known headings as any other of its kind.
    private static IEnumerable<DraftSource> Choose(string path, ImmutableArray<SheetTable> tables, Vocabulary vocabulary)
    {
        var known = tables.Select(table => (Table: table, Known: table.Headings.Count(heading => IsKnown(heading, vocabulary)))).ToList();
        var most = known.Max(table => table.Known);
        var likely = known.Where(table => table.Known * 2 > most || table.Known >= 3)
            .Select(table => (table.Table, table.Known, Draft: Read(path, Named(table.Table, path), [], vocabulary))).ToList();
        foreach (var kind in likely.GroupBy(table => table.Draft.Attempts).OrderBy(kind => kind.Key))
        {
            var best = kind.OrderByDescending(table => table.Known).ThenBy(table => table.Table.Place).First();
            yield return best.Draft with
            {
                OtherSheets = [.. kind.Where(other => other.Table != best.Table && other.Known * 2 > best.Known)
                    .Where(other => !ShownName.Trips(other.Table.Name)).Select(other => other.Table.Name)]
            };
        }
    }

    private static DraftSource Read(string path, string? sheet, ImmutableArray<string> others, Vocabulary vocabulary)
    {
        var sample = ExportSample.Read(path, path, sheet: sheet);
        return new DraftSource(path, sample, RowsAreAttempts(sample, vocabulary), others);
    }

    private static string Named(SheetTable table, string path) =>
        !ShownName.Trips(table.Name) ? table.Name : throw new Failure(ExitCode.Input,
            string.Create(CultureInfo.InvariantCulture, $"the name of sheet {table.Place} looks like an identifier of a person; "
                + $"rename the sheet"), path, rule: "identifying_sheet_name");

    private static string Shown(SheetTable table) =>
        ShownName.Of($"\"{table.Name}\"", string.Create(CultureInfo.InvariantCulture, $"sheet {table.Place}"));

    private static bool IsKnown(string heading, Vocabulary vocabulary) => heading.Length > 0
        && FieldDictionary.Shipped.Fields.Any(field => field.Identifying != Identifying.DirectRisk
            && vocabulary.Likeness(heading, field) >= Clear);

    // A record's key stands on several rows, and a column numbers them within the record.
    private static bool RowsAreAttempts(ExportSample sample, Vocabulary vocabulary)
    {
        int Column(string field) => Enumerable.Range(0, sample.Headings.Length).Where(i => vocabulary.Likeness(sample.Headings[i],
            FieldDictionary.Shipped.Find(FieldDictionary.Attempt, field)!) >= Clear).DefaultIfEmpty(-1).First();
        var (key, number) = (Column("record_id"), Column("attempt_no"));
        if (key < 0 || number < 0 || key == number || sample.Rows.Length == 0) return false;
        var pairs = sample.Rows.Select(row => (row.Cells[key], row.Cells[number])).ToList();
        return pairs.Select(pair => pair.Item1).Distinct().Count() < 0.98 * pairs.Count && pairs.Distinct().Count() >= 0.98 * pairs.Count;
    }
}
