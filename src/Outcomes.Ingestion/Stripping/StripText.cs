using System.Collections.Immutable;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Ingestion.Stripping;

/// <summary>The text that a copy is made from: the file itself, or its conversion, which is deleted afterwards.</summary>
internal sealed class StripText : IDisposable
{
    private readonly bool _own;

    private StripText(SourceFormat format, Stream text, SourceHeader header, bool own, ImmutableArray<string> changed) =>
        (Format, Text, Header, _own, Changed) = (format, text, header, own, changed);

    public SourceFormat Format { get; }

    public Stream Text { get; }

    public SourceHeader Header { get; }

    public ImmutableArray<string> Changed { get; }

    /// <summary>
    /// Opens the text. A heading that is an identifier refuses the file when it is read; here its column is simply left out.
    /// </summary>
    /// <param name="file">The original, open.</param>
    /// <param name="name">Its name in messages.</param>
    /// <param name="copy">The copy's place: a conversion lies beside it for as long as the copy is made, for it is as confidential.</param>
    /// <param name="mapping">The mapping; without one the first sheet and the row that looks like headings are taken.</param>
    /// <param name="dictionary">The dictionary that it is written for.</param>
    public static StripText Of(FileStream file, string name, string copy, SourceMapping? mapping, FieldDictionary dictionary)
    {
        var format = mapping is null ? SourceFormats.Unmapped(file, name) : SourceFormats.Of(file, mapping, name);
        var table = mapping?.Table ?? new TableLayout(null, false);
        if (mapping is null && format == SourceFormat.Workbook)
            table = table with { HeaderRow = ExportSample.HeaderRowOf(file, name, null) };
        if (format == SourceFormat.Utf8)
        {
            var row = mapping is null ? ExportSample.HeaderRowOf(file, name) : table.HeaderRow;
            return new StripText(format, file, SourceHeader.Read(file, name, table.Separator, row, refuse: false), own: false,
                row > 0 ? ["header_row"] : []);
        }

        file.Position = 0;
        var text = Temporary(copy);
        try
        {
            var conversion = SourceFormats.Convert(format, file, text, Request(name, mapping, table, dictionary));
            text.Position = 0;
            var headerRow = mapping is null && !SourceFormats.HasTypedCells(format)
                ? ExportSample.HeaderRowOf(text, name)
                : conversion.HeaderRow;
            text.Position = 0;
            return new StripText(format, text, SourceHeader.Read(text, name, conversion.Separator, headerRow, refuse: false), own: true,
            [
                .. format == SourceFormat.Windows1252 ? (string[])["encoding"] : [],
                .. table.Sheet is null ? (string[])[] : ["sheet"],
                .. table.HeaderRow > 0 || (!SourceFormats.HasTypedCells(format) && headerRow > 0) ? (string[])["header_row"] : [],
            ]);
        }
        catch
        {
            text.Dispose();
            throw;
        }
    }

    /// <summary>
    /// A text cell that was harmless in its typed file and that a spreadsheet would run as a formula in a CSV file, behind the
    /// apostrophe of <see cref="FormulaGuard"/>. Numbers, and words such as "-" and "+ve", stay as they are: they run nothing, and a
    /// mapping may name them.
    /// </summary>
    public static ReadOnlySpan<byte> Guarded(ReadOnlySpan<byte> cell)
    {
        var (width, isSign) = cell switch
        {
            [(byte)'=' or (byte)'@', ..] => (1, false),
            [(byte)'+' or (byte)'-', ..] => (1, true),
            _ when cell.StartsWith("＝"u8) || cell.StartsWith("＠"u8) => (3, false),
            _ when cell.StartsWith("＋"u8) || cell.StartsWith("－"u8) => (3, true),
            _ => (0, false),
        };
        var runs = width > 0 && cell.Length > width && (!isSign || cell.IndexOfAny("(!|"u8) >= 0);
        return runs ? (byte[])[(byte)'\'', .. cell] : cell;
    }

    public void Dispose()
    {
        if (_own) Text.Dispose();
    }

    // Typed cells are written as the mapping reads them, so that the copy is read by it too. Where it does not fit the file, a
    // run will say so.
    private static TableRequest Request(string name, SourceMapping? mapping, TableLayout table, FieldDictionary dictionary)
    {
        if (mapping is null) return TableRequest.Unmapped(name, table) with { Refuse = false };
        var mapped = TableRequest.Mapped(name, mapping, dictionary);
        return mapped with
        {
            Refuse = false,
            Readers = headings =>
            {
                try
                {
                    return mapped.Readers(headings);
                }
                catch (Failure)
                {
                    return new CellReader?[headings.Length];
                }
            },
        };
    }

    private static FileStream Temporary(string copy)
    {
        try
        {
            return new FileStream($"{copy}.{Path.GetRandomFileName()}.part", new FileStreamOptions
            {
                Mode = FileMode.CreateNew,
                Access = FileAccess.ReadWrite,
                Share = FileShare.None,
                Options = FileOptions.DeleteOnClose,
            });
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output,
                "the copy cannot be written; name a place with --out where nothing stands and that can be written");
        }
    }
}
