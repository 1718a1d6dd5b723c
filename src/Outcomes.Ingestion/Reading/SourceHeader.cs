using System.Collections.Immutable;
using System.Globalization;
using System.Text.Unicode;
using CsvHelper;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>The headings of a delimited file and where its data start.</summary>
/// <param name="Headings">The headings, trimmed.</param>
/// <param name="Separator">The separator in use.</param>
/// <param name="DataOffset">Byte offset of the first record after the heading.</param>
public sealed record SourceHeader(ImmutableArray<string> Headings, char Separator, int DataOffset)
{
    /// <summary>Lines above a declared heading, without one that names the separator: outside the table, counted all the same.</summary>
    public int OutsideRows { get; init; }

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
    /// <param name="file">UTF-8 text.</param>
    /// <param name="name">Its name in messages.</param>
    /// <param name="separator">The separator; null takes that of a first line <c>sep=;</c>, else the one that the heading
    /// uses most.</param>
    /// <param name="headerRow">Physical line of the heading, 1-based; 0 takes the first that is not blank.</param>
    /// <param name="refuse">False lets a heading pass that is an identifier: for the command that takes its column out.</param>
    /// <exception cref="Failure">Empty, not text, or a heading that is an identifier (exit 4).</exception>
    public static SourceHeader Read(Stream file, string name, char? separator, int headerRow = 0, bool refuse = true)
    {
        var head = new byte[HeadBytes];
        var length = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        file.Position = 0;
        var bom = head.AsSpan(0, length).StartsWith("\uFEFF"u8) ? 3 : 0;
        if (head.AsSpan(0, length) is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..] || head.AsSpan(0, Math.Min(length, 4096)).Contains((byte)0))
            throw new Failure(ExitCode.Input, "the file is not UTF-8 text; export it as CSV UTF-8", name, rule: "not_utf8");
        if (length == bom)
            throw new Failure(ExitCode.Input, "the file is empty; a heading row is needed", name, rule: "no_heading");
        var named = SeparatorLine.Read(head.AsSpan(bom, length - bom), out var nameBytes);
        var start = bom + (headerRow > 0 ? RecordEnd.StartOfLine(head.AsSpan(bom, length - bom), headerRow) : nameBytes);
        if (start < bom || start >= length) throw NoHeading(name, headerRow);
        var used = separator ?? named ?? Guess(head.AsSpan(start, length - start));
        using var reader = CsvReader.Create(head.AsMemory(start, length - start), Options(used));
        do
        {
            if (!reader.Read()) throw NoHeading(name, headerRow);
        }
        while (headerRow == 0 && reader.FieldCount == 1 && reader.IsEmpty(0));
        if (reader.FieldCount == 1 && reader.IsEmpty(0)) throw NoHeading(name, headerRow);
        var line = RecordEnd.LineBreaks(head.AsSpan(bom, start - bom)) + (int)reader.LineNumber;
        var headings = Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i).Trim().Trim('\u00A0')).ToImmutableArray();
        var data = reader.Read() ? (int)reader.ByteOffset + start : length;
        RecordEnd.Last(head.AsSpan(start, data - start), (byte)used, out var open);
        if (open >= 0)
        {
            file.Position = length;
            throw BlockReader.Unended(file, name, RecordEnd.LineBreaks(head.AsSpan(bom, start - bom + open)) + 1, "1 MiB");
        }

        if (data == HeadBytes)
            throw new Failure(ExitCode.Input, "the heading row is longer than 1 MiB; line breaks are missing", name, line, "no_heading");
        if (!Utf8.IsValid(head.AsSpan(0, data)))
            throw new Failure(ExitCode.Input, BlockReader.NotUtf8, name, rule: "not_utf8");
        if (head.AsSpan(0, data).Contains((byte)0))
            throw new Failure(ExitCode.Input, BlockReader.NulByte, name, line, "not_text");
        if (refuse && headerRow > 1) RefuseTitles(head.AsSpan(bom, start - bom), name);
        if (refuse) RefuseIdentifiers(headings, name, line);
        return new SourceHeader(headings, used, data) { OutsideRows = Math.Max(0, headerRow - 1 - (named is null ? 0 : 1)) };
    }

    /// <summary>The first rows as a separator cuts them, a line <c>sep=;</c> left out; the stream is left at its start.</summary>
    internal static ImmutableArray<SampleRow> FirstRows(Stream file, char separator, int most)
    {
        var head = new byte[HeadBytes];
        var length = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        file.Position = 0;
        var start = head.AsSpan(0, length).StartsWith("\uFEFF"u8) ? 3 : 0;
        SeparatorLine.Read(head.AsSpan(start, length - start), out var named);
        var before = named > 0 ? 1 : 0;
        using var reader = CsvReader.Create(head.AsMemory(start + named, length - start - named), Options(separator));
        var rows = ImmutableArray.CreateBuilder<SampleRow>();
        while (rows.Count < most && reader.Read())
            rows.Add(new SampleRow((int)reader.LineNumber + before,
                [.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i).Trim().Trim('\u00A0'))]));
        return rows.ToImmutable();
    }

    internal static Failure NoHeading(string name, int headerRow) => new(ExitCode.Input,
        headerRow > 0 ? "the line that the mapping's `header_row` names is blank or not there" : "the file has no heading row", name,
        headerRow, "no_heading");

    // A heading that is itself somebody's number is named by its position, never by its text.
    internal static void RefuseIdentifiers(ImmutableArray<string> headings, string name, int line)
    {
        for (var i = 0; i < headings.Length; i++)
            if (HeaderScreen.IsAnIdentifier(headings[i]))
                throw new Failure(ExitCode.Input, string.Create(CultureInfo.InvariantCulture,
                    $"the heading of column {i + 1} looks like an identifier of a person (a number that passes the NHS number check, "
                        + $"an e-mail address or a postcode); remove it from the export"), name, line, "identifying_heading");
    }

    private static void RefuseTitles(ReadOnlySpan<byte> text, string name)
    {
        for (var line = 1; !text.IsEmpty; line++)
        {
            var end = text.IndexOf((byte)'\n') is var found and >= 0 ? found : text.Length;
            RefuseTitle(text[..end], name, line);
            text = text[Math.Min(text.Length, end + 1)..];
        }
    }

    /// <summary>Refuses a file for what stands above its headings: it is not read, and the file holds it all the same.</summary>
    internal static void RefuseTitle(ReadOnlySpan<byte> text, string name, int line)
    {
        if ((Detect.In(text, IdentifierSets.Numbers | IdentifierSets.Refusing) & (IdentifierSets.Refusing | IdentifierSets.Passing))
            != Identifier.None)
            throw new Failure(ExitCode.Input,
                "what stands above the headings looks like an identifier of a person; remove this line from the export", name, line,
                "identifying_title");
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
