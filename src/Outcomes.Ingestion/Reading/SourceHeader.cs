using System.Collections.Immutable;
using System.Globalization;
using System.Text.Unicode;
using CsvHelper;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>The headings of a delimited file and where its data start.</summary>
/// <param name="Headings">The headings, trimmed.</param>
/// <param name="Separator">The separator in use.</param>
/// <param name="DataOffset">Byte offset of the first record after the heading.</param>
public sealed record SourceHeader(ImmutableArray<string> Headings, char Separator, int DataOffset)
{
    private const int HeadBytes = 1024 * 1024;

    /// <summary>The reader's options for records of a file whose separator is known; every caller reads alike.</summary>
    public static CsvReaderOptions Options(char separator, Action<CsvMalformedRecord>? onMalformed = null) => new()
    {
        Separator = separator,
        HasHeader = false,
        TrackLineNumbers = true,
        SkipEmptyLines = false,
        IncludeValuesInExceptions = false,
        MaxRecordSize = BlockReader.MaximumRecord * 2,
        FieldCountMismatch = CsvFieldCountHandling.Allow,
        MalformedData = CsvMalformedDataHandling.Recover,
        OnMalformedRecord = onMalformed,
    };

    /// <summary>Reads the heading at the start of <paramref name="file"/> and leaves the stream at its start.</summary>
    /// <param name="file">The file.</param>
    /// <param name="name">Its name in messages.</param>
    /// <param name="separator">The separator, or null to let the heading decide.</param>
    /// <param name="refuse">False lets a heading pass that is an identifier: for the command that takes its column out.</param>
    /// <exception cref="Failure">Empty, not text, or a heading that is an identifier (exit 4).</exception>
    public static SourceHeader Read(Stream file, string name, char? separator, bool refuse = true)
    {
        var head = new byte[HeadBytes];
        var length = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        file.Position = 0;
        var bom = head.AsSpan(0, length).StartsWith("\uFEFF"u8) ? 3 : 0;
        if (head.AsSpan(0, length) is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..] || head.AsSpan(0, Math.Min(length, 4096)).Contains((byte)0))
            throw new Failure(ExitCode.Input, "the file is not UTF-8 text; export it as CSV UTF-8", name, rule: "not_utf8");
        if (length == bom)
            throw new Failure(ExitCode.Input, "the file is empty; a heading row is needed", name, rule: "no_heading");
        var used = separator ?? Guess(head.AsSpan(bom, length - bom));
        using var reader = CsvReader.Create(head.AsMemory(bom, length - bom), Options(used));
        do
        {
            if (!reader.Read())
                throw new Failure(ExitCode.Input, "the file has no heading row", name, rule: "no_heading");
        }
        while (reader.FieldCount == 1 && reader.IsEmpty(0));
        var headings = Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i).Trim().Trim('\u00A0')).ToImmutableArray();
        var data = reader.Read() ? (int)reader.ByteOffset + bom : length;
        RecordEnd.Last(head.AsSpan(bom, data - bom), (byte)used, out var open);
        if (open >= 0)
            throw BlockReader.Unclosed(name, RecordEnd.LineBreaks(head.AsSpan(bom, open)) + 1);
        if (data == HeadBytes)
            throw new Failure(ExitCode.Input, "the heading row is longer than 1 MiB; line breaks are missing", name, 1, "no_heading");
        if (!Utf8.IsValid(head.AsSpan(0, data)))
            throw new Failure(ExitCode.Input, BlockReader.NotUtf8, name, rule: "not_utf8");
        if (refuse) RefuseIdentifiers(headings, name);
        return new SourceHeader(headings, used, data);
    }

    // Empty lines may stand before the heading, so that it does not always end in the first block.
    internal Block Without(Block block)
    {
        var heading = (int)Math.Clamp(DataOffset - block.Offset, 0, block.Bytes.Length);
        return heading == 0 ? block : block with
        {
            Bytes = block.Bytes[heading..],
            Offset = block.Offset + heading,
            LinesBefore = block.LinesBefore + RecordEnd.LineBreaks(block.Bytes.Span[..heading]),
        };
    }

    // A heading that is itself somebody's number is named by its position, never by its text.
    private static void RefuseIdentifiers(ImmutableArray<string> headings, string name)
    {
        for (var i = 0; i < headings.Length; i++)
            if (HeaderScreen.IsAnIdentifier(headings[i]))
                throw new Failure(ExitCode.Input, string.Create(CultureInfo.InvariantCulture,
                    $"the heading of column {i + 1} looks like an identifier of a person (a number that passes the NHS number check, an e-mail address or a postcode); remove it from the export"), name, 1, "identifying_heading");
    }

    // The heading alone decides: commas in data are common, commas in a semicolon file's headings are not.
    private static char Guess(ReadOnlySpan<byte> text)
    {
        var counts = (Comma: 0, Semicolon: 0, Tab: 0);
        var (quoted, any) = (false, false);
        foreach (var b in text)
        {
            if (b == (byte)'"') quoted = !quoted;
            if (quoted) continue;
            if (b is (byte)'\n' or (byte)'\r')
            {
                if (any) break;
                continue;
            }

            any = true;
            if (b == (byte)',') counts.Comma++;
            else if (b == (byte)';') counts.Semicolon++;
            else if (b == (byte)'\t') counts.Tab++;
        }

        return counts.Semicolon > counts.Comma && counts.Semicolon >= counts.Tab ? ';' : counts.Tab > counts.Comma ? '\t' : ',';
    }
}
