using System.Collections.Immutable;
using System.Globalization;
using CsvHelper;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>A sheet of a workbook that holds a table.</summary>
/// <param name="Place">Its place among the sheets, 1-based.</param>
/// <param name="Name">Its name.</param>
/// <param name="Headings">The headings, trimmed.</param>
public sealed record SheetTable(int Place, string Name, ImmutableArray<string> Headings);

/// <summary>The headings and the first rows of an export, whatever its format: what a mapping is drafted from.</summary>
/// <param name="Headings">The headings, trimmed.</param>
/// <param name="Separator">The separator between cells; null where the format has none.</param>
/// <param name="Rows">Rows that are not blank and have as many cells as there are headings.</param>
/// <param name="Ragged">Rows left out because they have more or fewer.</param>
/// <param name="Truncated">True when the file goes on.</param>
public sealed record ExportSample(
    ImmutableArray<string> Headings, char? Separator, ImmutableArray<SampleRow> Rows, int Ragged, bool Truncated)
{
    private const int BlockSize = 1024 * 1024;

    // What is not UTF-8 is turned into it in memory: a draft leaves no copy of an export on the disk.
    private const long LargestInMemory = 512L << 20;

    /// <summary>The format. Windows-1252 is what the bytes can be, and no more: they could be another old encoding.</summary>
    public SourceFormat Format { get; init; } = SourceFormat.Utf8;

    /// <summary>Where the headings stand; 0 is the first row that is not blank.</summary>
    public int HeaderRow { get; init; }

    /// <summary>True when its numbers are to be read with a decimal comma.</summary>
    public bool DecimalComma { get; init; }

    /// <summary>The workbook's sheet; null where there is none to choose.</summary>
    public string? Sheet { get; init; }

    /// <summary>
    /// The file's tables, if it is a workbook: visible sheets with headings and something below them. Empty for other files.
    /// </summary>
    /// <exception cref="Failure">The file is missing or refused (exit 4).</exception>
    public static ImmutableArray<SheetTable> Sheets(string path, string shown) => Open<ImmutableArray<SheetTable>>(path, shown, file =>
        SourceFormats.Unmapped(file, shown) != SourceFormat.Workbook ? []
            : [.. Workbook.Sheets(file, shown, HeadingRow.Looked)
                .Select((sheet, i) => (sheet, Place: i + 1, Row: HeadingRow.Find(sheet.First)))
                .Where(table => !table.sheet.Hidden && table.Row >= 0 && table.sheet.First.Skip(table.Row + 1).Any(row => row.Length > 0))
                .Select(table => new SheetTable(table.Place, table.sheet.Name, table.sheet.First[table.Row]))]);

    /// <summary>Reads the headings and the first rows.</summary>
    /// <param name="path">Where the file is.</param>
    /// <param name="shown">Its name in messages.</param>
    /// <param name="most">Rows read at most.</param>
    /// <param name="sheet">The workbook's sheet; null takes its first.</param>
    /// <exception cref="Failure">The file is missing, empty or not text, or a heading is an identifier (exit 4).</exception>
    public static ExportSample Read(string path, string shown, int most = 50_000, string? sheet = null) => Open(path, shown, file =>
    {
        var format = SourceFormats.Unmapped(file, shown);
        if (format != SourceFormat.Utf8) return Converted(format, file, shown, most, sheet);
        try
        {
            return ReadText(file, shown, most, null, HeaderRowOf(file, shown));
        }
        catch (Failure failure) when (failure.Rule == "not_utf8")
        {
            try
            {
                return Converted(SourceFormat.Windows1252, file, shown, most, null);
            }
            catch (Failure)
            {
                throw failure;
            }
        }
    });

    /// <summary>The line of the headings where titles stand above them, 1-based; 0 where it is the first that is not blank.</summary>
    internal static int HeaderRowOf(Stream file, string shown)
    {
        var first = SourceHeader.Read(file, shown, null, refuse: false);
        // The first row says the separator, unless it is a title: then the one that gives the widest headings over rows of their width.
        var (line, widest) = (0, 0);
        foreach (var separator in (char[])[first.Separator, ',', ';', '\t'])
        {
            var rows = SourceHeader.FirstRows(file, separator, HeadingRow.Looked);
            var found = HeadingRow.Find([.. rows.Select(row => row.Cells)]);
            if (found < 0 || !AreAsWide(rows, found)) continue;
            if (separator == first.Separator && rows[found].Cells.SequenceEqual(first.Headings)) return 0;
            if (rows[found].Cells.Count(cell => cell.Length > 0) is var filled && filled > widest)
                (line, widest) = (rows[found].Line, filled);
        }

        return line;
    }

    // A separator that is none cuts rows into any number of cells.
    private static bool AreAsWide(ImmutableArray<SampleRow> rows, int heading)
    {
        var below = rows.Skip(heading + 1).Where(row => row.Cells.Any(cell => cell.Length > 0)).ToList();
        return 2 * below.Count(row => row.Cells.Length == rows[heading].Cells.Length) >= below.Count;
    }

    /// <summary>The same of a workbook's sheet.</summary>
    internal static int HeaderRowOf(FileStream workbook, string shown, string? sheet)
    {
        var first = Workbook.Sheets(workbook, shown, HeadingRow.Looked).First(other => sheet is null || other.Name == sheet).First;
        var found = HeadingRow.Find(first);
        return found < 0 || first.Take(found).All(row => row.Length == 0) ? 0 : found + 1;
    }

    private static ExportSample Converted(SourceFormat format, FileStream file, string shown, int most, string? sheet)
    {
        if (file.Length > LargestInMemory && !SourceFormats.HasTypedCells(format))
            throw new Failure(ExitCode.Input,
                "text of more than 512 MiB is drafted from only as UTF-8; export it as CSV UTF-8, or draft from its first rows", shown);
        var layout = new TableLayout(null, false)
        {
            Sheet = sheet,
            Windows1252 = format == SourceFormat.Windows1252,
            HeaderRow = format == SourceFormat.Workbook ? HeaderRowOf(file, shown, sheet) : 0
        };
        file.Position = 0;
        using var text = new MemoryStream();
        var conversion = SourceFormats.Convert(format, file, text, TableRequest.Unmapped(shown, layout) with { MostRows = most + 1 });
        text.Position = 0;
        var headerRow = SourceFormats.HasTypedCells(format) ? 1 : HeaderRowOf(text, shown);
        var sample = ReadText(text, shown, most, conversion.Separator, headerRow);
        return SourceFormats.HasTypedCells(format)
            ? sample with
            {
                Format = format,
                Separator = null,
                Sheet = sheet,
                HeaderRow = layout.HeaderRow,
                Rows = [.. sample.Rows.Select(row => row with { Line = conversion.Lines!.Of(row.Line) })]
            }
            : sample with { Format = format };
    }

    private static ExportSample ReadText(Stream file, string shown, int most, char? separator, int headerRow)
    {
        var header = SourceHeader.Read(file, shown, separator, headerRow);
        var rows = ImmutableArray.CreateBuilder<SampleRow>();
        var ragged = 0;
        using var blocks = new BlockReader(file, shown, header.Separator, BlockSize);
        byte[] buffer = [];
        ExportSample Sample(bool truncated) =>
            new(header.Headings, header.Separator, rows.DrainToImmutable(), ragged, truncated) { HeaderRow = headerRow };
        blocks.Skip(header.DataOffset);
        while (blocks.Next(ref buffer) is { } block)
        {
            using var reader = CsvReader.Create(block.Bytes, SourceHeader.Options(header.Separator));
            while (reader.Read())
            {
                if (rows.Count == most) return Sample(truncated: true);
                ImmutableArray<string> cells =
                    [.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i).Trim().Trim('\u00A0'))];
                if (cells.All(cell => cell.Length == 0)) continue;
                if (cells.Length != header.Headings.Length) ragged++;
                else rows.Add(new SampleRow(Convert.ToInt32(reader.LineNumber, CultureInfo.InvariantCulture) + block.LinesBefore, cells));
            }
        }

        return Sample(truncated: false);
    }

    private static T Open<T>(string path, string shown, Func<FileStream, T> read)
    {
        try
        {
            using var file = RegularFile.Open(path, shown);
            return read(file);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new Failure(ExitCode.Input, "the file is missing or cannot be read; check the path", shown);
        }
    }
}
