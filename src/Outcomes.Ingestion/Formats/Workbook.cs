using System.Collections.Immutable;
using System.Text;
using ExcelDataReader;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>A sheet of an .xlsx workbook, row by row. A formula is the value that was saved with it; nothing is computed.</summary>
internal static class Workbook
{
    private const int MaximumRows = 1_048_576;
    private const int MaximumColumns = 16_384;
    private const int DaysTo1904 = 1462;

    static Workbook() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    /// <summary>A sheet as a table to choose from.</summary>
    /// <param name="Name">Its name.</param>
    /// <param name="Hidden">True when its readers do not see it.</param>
    /// <param name="First">Its first rows.</param>
    public sealed record SheetView(string Name, bool Hidden, ImmutableArray<ImmutableArray<string>> First);

    public static Conversion Convert(FileStream file, StreamWriter target, TableRequest request) =>
        Read(file, request.File, (reader, from1904) =>
        {
            GoToSheet(reader, request);
            using var parts = new WorkbookParts(file.Name);
            var notes = parts.Sheets.Select((sheet, i) => (sheet.Name, Place: i + 1)).Where(named => ShownName.Trips(named.Name))
                .Select(named => new CellFinding(-1, 0, -1, "", CellRule.SheetName, named.Place));
            // The copy that `strip` makes holds the one sheet and nothing else of the workbook.
            var (name, others) = (reader.Name, (IReadOnlyList<CellFinding>)[]);
            if (request.Refuse)
            {
                others = new WorkbookSearch(request.File, name).Search(reader, parts);
                reader.Reset();
                while (reader.Name != name) reader.NextResult();
            }

            return Sheet(reader, parts.Errors(name), from1904, target, request, [.. notes, .. others]);
        });

    /// <summary>The sheets with their first rows, in the workbook's order.</summary>
    /// <exception cref="Failure">The workbook is refused or cannot be read (exit 4).</exception>
    public static ImmutableArray<SheetView> Sheets(Stream file, string name, int rows) => Read(file, name, (reader, _) =>
    {
        var sheets = ImmutableArray.CreateBuilder<SheetView>();
        var text = new CellText('.');
        do
        {
            var first = ImmutableArray.CreateBuilder<ImmutableArray<string>>();
            while (first.Count < rows && reader.Read())
                first.Add([.. Enumerable.Range(0, Width(reader)).Select(i => text.Of(reader.GetValue(i), null).Trim().Trim('\u00A0'))]);
            sheets.Add(new SheetView(reader.Name, reader.VisibleState != "visible", first.ToImmutable()));
        }
        while (reader.NextResult());
        return sheets.ToImmutable();
    });

    private static T Read<T>(Stream file, string name, Func<IExcelDataReader, bool, T> read)
    {
        try
        {
            file.Position = 0;
            var from1904 = WorkbookScreen.Check(file, name);
            file.Position = 0;
            using var reader = ExcelReaderFactory.CreateOpenXmlReader(new BufferedStream(file, 1 << 16),
                new ExcelReaderConfiguration { LeaveOpen = true });
            return read(reader, from1904);
        }
        catch (Exception e) when (e is not (Failure or OutOfMemoryException) && (e is not IOException || e is EndOfStreamException))
        {
            // The library throws whatever a broken part leads it to; for a person it is one and the same thing.
            throw new Failure(ExitCode.Input, "the workbook is damaged and cannot be read; open it, save it again as .xlsx, "
                + "or export it as CSV UTF-8", name, rule: "not_readable");
        }
    }

    // Stands on the sheet afterwards.
    private static void GoToSheet(IExcelDataReader reader, TableRequest request)
    {
        if (request.Mapping.Table.Sheet is not { } sheet) return;
        do
        {
            if (reader.Name == sheet) return;
        }
        while (reader.NextResult());
        throw Failure.Definition(request.Mapping.File, request.Mapping.Table.Line,
            $"{request.File} has no sheet {ShownName.Of($"`{sheet}`", "of the name given here")}; correct `sheet`, "
                + "or remove it to read the first");
    }

    private static Conversion Sheet(
        IExcelDataReader reader, Dictionary<(int Row, int Column), string> errors, bool from1904, StreamWriter target, TableRequest request,
        List<CellFinding> notes)
    {
        if (reader.FieldCount > MaximumColumns || reader.RowCount > MaximumRows) throw Limit(request.File);
        // One stray cell in the last row and column makes a sheet of 17 thousand million.
        if (Math.Min(request.MostRows, (long)reader.RowCount) * reader.FieldCount > TextTable.MaximumCells)
            throw TextTable.TooManyCells(request.File);
        var row = ToHeading(reader, request);
        var headings = Headings(reader);
        var table = new TextTable(target, headings, row, request, from1904 ? DaysTo1904 : 0);
        notes.AddRange(Merged(reader, row).Select(column => new CellFinding(-1, row, column, "", CellRule.MergedHeading)));
        var above = row - 1;
        var blanks = 0;
        for (var last = row + (long)request.MostRows; row < last && reader.Read();)
        {
            if (++row > MaximumRows) throw Limit(request.File);
            var width = Width(reader);
            if (errors.Count > 0)
                for (var i = reader.FieldCount - 1; i >= width; i--)
                    if (errors.ContainsKey((row - 1, i))) width = i + 1;
            if (width == 0)
            {
                blanks++;
                continue;
            }

            for (; blanks > 0; blanks--) table.WriteBlank(row - blanks);
            table.Write(reader, Math.Max(width, table.Columns), row,
                (cells, i) => Value(cells, i) ?? (errors.Count > 0 ? errors.GetValueOrDefault((row - 1, i)) : null));
        }

        return new Conversion(TextTable.Separator, 1, request.Mapping.Table.HeaderRow > 0 ? above : 0, table.Lines, notes);
    }

    // Stands on the heading row afterwards, and returns its number.
    private static int ToHeading(IExcelDataReader reader, TableRequest request)
    {
        var wanted = request.Mapping.Table.HeaderRow;
        for (var row = 1; row <= MaximumRows && reader.Read(); row++)
        {
            if (row == wanted || (wanted == 0 && Width(reader) > 0))
                return Width(reader) > 0 ? row : throw SourceHeader.NoHeading(request.File, wanted);
            if (!request.Refuse) continue;
            foreach (var title in Headings(reader)) SourceHeader.RefuseTitle(Encoding.UTF8.GetBytes(title), request.File, row);
        }

        throw SourceHeader.NoHeading(request.File, wanted);
    }

    private static ImmutableArray<string> Headings(IExcelDataReader reader)
    {
        var text = new CellText('.');
        return [.. Enumerable.Range(0, Width(reader)).Select(i => text.Of(Value(reader, i), null).Trim().Trim('\u00A0'))];
    }

    // Empty formatted cells at the end of a row are no cells.
    private static int Width(IExcelDataReader reader)
    {
        for (var i = reader.FieldCount - 1; i >= 0; i--)
            if (reader.GetValue(i) is not (null or "")) return i + 1;
        return 0;
    }

    private static object? Value(IExcelDataReader reader, int i)
    {
        if (i >= reader.FieldCount) return null;
        return reader.GetValue(i);
    }

    private static IEnumerable<int> Merged(IExcelDataReader reader, int row) =>
        (reader.MergeCells ?? []).Where(range => range.FromRow <= row - 1 && range.ToRow >= row - 1)
            .Select(range => range.FromColumn).Order();

    private static Failure Limit(string file) =>
        new(ExitCode.Input, "the sheet has more rows or columns than the format allows; export it as CSV UTF-8", file,
            rule: "workbook_limit");
}
