using System.Collections.Immutable;
using System.Globalization;
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
    /// <exception cref="Failure">Empty, not text, or a heading that is an identifier (exit 4).</exception>
    public static SourceHeader Read(Stream file, string name, char? separator)
    {
        var head = new byte[HeadBytes];
        var length = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        file.Position = 0;
        var bom = head.AsSpan(0, length).StartsWith("\uFEFF"u8) ? 3 : 0;
        if (head.AsSpan(0, length) is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..] || head.AsSpan(0, Math.Min(length, 4096)).Contains((byte)0))
            throw new Failure(ExitCode.Input, "the file is not UTF-8 text; export it as CSV UTF-8", name);
        if (length == bom)
            throw new Failure(ExitCode.Input, "the file is empty; a heading row is needed", name);
        var used = separator ?? Guess(head.AsSpan(bom, length - bom));
        using var reader = CsvReader.Create(head.AsMemory(bom, length - bom), Options(used));
        do
        {
            if (!reader.Read())
                throw new Failure(ExitCode.Input, "the file has no heading row", name);
        }
        while (reader.FieldCount == 1 && reader.IsEmpty(0));
        var headings = Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i).Trim().Trim('\u00A0')).ToImmutableArray();
        var data = reader.Read() ? (int)reader.ByteOffset + bom : length;
        RefuseIdentifiers(headings, name);
        return new SourceHeader(headings, used, data);
    }

    // A heading that is itself somebody's number is named by its position, never by its text.
    private static void RefuseIdentifiers(ImmutableArray<string> headings, string name)
    {
        for (var i = 0; i < headings.Length; i++)
            if (HeaderScreen.IsAnIdentifier(headings[i]))
                throw new Failure(ExitCode.Input, string.Create(CultureInfo.InvariantCulture,
                    $"the heading of column {i + 1} looks like an identifier of a person (a number that passes the NHS number check, or an e-mail address); remove it from the export"), name, 1);
    }

    // The heading alone decides: commas in data are common, commas in a semicolon file's headings are not.
    private static char Guess(ReadOnlySpan<byte> text)
    {
        var end = text.IndexOfAny((byte)'\n', (byte)'\r');
        var line = end < 0 ? text : text[..end];
        var best = (Separator: ',', Count: 0);
        foreach (var separator in (ReadOnlySpan<char>)[',', ';', '\t'])
        {
            var (count, quoted) = (0, false);
            foreach (var b in line)
            {
                if (b == (byte)'"') quoted = !quoted;
                else if (!quoted && b == separator) count++;
            }

            if (count > best.Count) best = (separator, count);
        }

        return best.Separator;
    }
}
