using System.Text;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>How a source is written. The content decides, never the file's name.</summary>
public enum SourceFormat
{
    /// <summary>Delimited text that is read as it stands.</summary>
    Utf8,
    Utf16LittleEndian,
    Utf16BigEndian,
    Windows1252,
    Workbook,
    Parquet,

    /// <summary>Objects in UTF-8: a list of them, or one after the other.</summary>
    Json,
}

/// <summary>A source as UTF-8 text.</summary>
/// <param name="Separator">The text's separator; null leaves it to the heading.</param>
/// <param name="HeaderRow">Line of its heading; 0 is the first that is not blank.</param>
/// <param name="OutsideRows">Rows above the heading that the text does not hold.</param>
/// <param name="Lines">From its lines to the places of the original; null where they are the same.</param>
/// <param name="Notes">What is to be said of the file as a whole.</param>
public sealed record Conversion(char? Separator, int HeaderRow, int OutsideRows, LineMap? Lines, IReadOnlyList<CellFinding> Notes);

/// <summary>Tells formats apart and turns each into UTF-8 text.</summary>
public static class SourceFormats
{
    private const int HeadBytes = 64;

    /// <summary>The format, by the first bytes and the mapping's encoding; the stream is left at its start.</summary>
    /// <exception cref="Failure">A format that is not read (exit 4), or a layout that does not fit it (exit 3).</exception>
    public static SourceFormat Of(Stream file, SourceMapping mapping, string name)
    {
        Span<byte> head = stackalloc byte[HeadBytes];
        head = Head(file, head);
        var table = mapping.Table;
        var format = Signature(head, name) ?? (table.Windows1252 ? SourceFormat.Windows1252 : SourceFormat.Utf8);
        var isText = !HasTypedCells(format);
        if (table.Sheet is not null && format != SourceFormat.Workbook)
            throw Failure.Definition(mapping.File, table.Line, $"`sheet` is for workbooks, and {name} is none; remove it");
        if (!isText && (table.Separator is not null || table.Windows1252))
            throw Failure.Definition(mapping.File, table.Line, $"`separator` and `encoding` are for text, and {name} is none; remove them");
        if (format is SourceFormat.Parquet or SourceFormat.Json && table.HeaderRow > 0)
            throw Failure.Definition(mapping.File, table.Line, $"{name} is a {(format == SourceFormat.Json ? "JSON" : "Parquet")} file, "
                + "which names its columns itself; remove `header_row`");
        if (table.Windows1252 && (format != SourceFormat.Windows1252 || head.StartsWith("\uFEFF"u8)))
            throw Failure.Definition(mapping.File, table.Line,
                $"{name} says itself, by a byte order mark, that it is Unicode; remove `encoding: windows-1252`");
        return format;
    }

    /// <summary>True when cells have types and rows have no lines: the text that is made of them is ours.</summary>
    public static bool HasTypedCells(SourceFormat format) => format is SourceFormat.Workbook or SourceFormat.Parquet or SourceFormat.Json;

    /// <summary>Writes a source that is not UTF-8 text as such text.</summary>
    /// <param name="format">Its format.</param>
    /// <param name="file">The file, at its start.</param>
    /// <param name="text">Where the text goes; it stays open.</param>
    /// <param name="request">The table.</param>
    /// <exception cref="Failure">The file cannot be read or is refused (exit 4), or does not fit the mapping (exit 3).</exception>
    public static Conversion Convert(SourceFormat format, FileStream file, Stream text, TableRequest request)
    {
        using var target = new StreamWriter(text, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), 1 << 16, leaveOpen: true);
        return format switch
        {
            SourceFormat.Workbook => Workbook.Convert(file, target, request),
            SourceFormat.Parquet => ParquetSource.Convert(file, target, request),
            SourceFormat.Json => JsonSource.Convert(file, target, request),
            _ => EncodedText.Convert(format, file, target, request),
        };
    }

    /// <summary>The format by the first bytes alone; text without a byte order mark counts as UTF-8.</summary>
    /// <exception cref="Failure">A format that is not read (exit 4).</exception>
    public static SourceFormat Unmapped(Stream file, string name)
    {
        Span<byte> head = stackalloc byte[HeadBytes];
        return Signature(Head(file, head), name) ?? SourceFormat.Utf8;
    }

    private static Span<byte> Head(Stream file, Span<byte> head)
    {
        head = head[..file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false)];
        file.Position = 0;
        return head;
    }

    private static SourceFormat? Signature(ReadOnlySpan<byte> head, string name) => head switch
    {
        [0xFF, 0xFE, ..] => SourceFormat.Utf16LittleEndian,
        [0xFE, 0xFF, ..] => SourceFormat.Utf16BigEndian,
        [(byte)'P', (byte)'K', 3, 4, ..] => SourceFormat.Workbook,
        [(byte)'P', (byte)'A', (byte)'R', (byte)'1', ..] => SourceFormat.Parquet,
        // The container of encrypted workbooks and of workbooks from before 2007 ([MS-CFB] 2.2).
        [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1, ..] => throw new Failure(ExitCode.Input,
            "the workbook is encrypted, or in the old .xls format; save it as .xlsx without a password, or as CSV UTF-8", name,
            rule: "encrypted_or_old_workbook"),
        _ => JsonSource.Begins(head) ? SourceFormat.Json : null,
    };
}
