using System.Security.Cryptography;
using System.Text.Unicode;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>A run of whole records out of the middle of a file.</summary>
/// <param name="Bytes">The records, UTF-8.</param>
/// <param name="Offset">Where they start in the file, in bytes.</param>
/// <param name="LinesBefore">Physical lines before them.</param>
/// <param name="Index">0-based place among the blocks.</param>
public readonly record struct Block(ReadOnlyMemory<byte> Bytes, long Offset, int LinesBefore, int Index);

/// <summary>
/// Cuts a delimited file into blocks at record ends, hashing it on the way. Memory is one block a worker, however long the file.
/// </summary>
public sealed class BlockReader : IDisposable
{
    /// <summary>A record longer than this is not a record: a quote was opened and never closed.</summary>
    public const int MaximumRecord = 16 * 1024 * 1024;

    internal const string NotUtf8 = "the file is not valid UTF-8; export it as UTF-8 (CSV UTF-8)";

    internal const string NulByte = "the file holds a NUL byte, which no text has; export it again";

    private readonly Stream _file;
    private readonly string _name;
    private readonly byte _separator;
    private readonly int _size;
    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private byte[] _rest = [];
    private long _offset;
    private int _lines;
    private int _index;
    private bool _ended;

    /// <param name="file">The file, at its start.</param>
    /// <param name="name">Its name in messages.</param>
    /// <param name="separator">The separator of its cells.</param>
    /// <param name="size">Bytes a block; results do not depend on it.</param>
    public BlockReader(Stream file, string name, char separator, int size)
    {
        _file = file;
        _name = name;
        _separator = (byte)separator;
        _size = size;
    }

    /// <summary>SHA-256 of all bytes read; call once, after the last block.</summary>
    public byte[] Hash() => _hash.GetHashAndReset();

    /// <summary>
    /// Passes over what stands before the records, such as title rows and the heading: part of the file's hash and lines,
    /// not of its records.
    /// </summary>
    public void Skip(int bytes)
    {
        var head = new byte[bytes];
        _file.ReadExactly(head);
        _hash.AppendData(head);
        _offset += bytes;
        _lines += RecordEnd.LineBreaks(head);
    }

    /// <summary>The next block into <paramref name="buffer"/> (grown when needed); null at the end.</summary>
    public Block? Next(ref byte[] buffer)
    {
        if (_ended && _rest.Length == 0) return null;
        var filled = _rest.Length;
        if (buffer.Length < Math.Max(_size, filled)) buffer = new byte[Math.Max(_size, filled)];
        _rest.CopyTo(buffer, 0);
        _rest = [];
        while (true)
        {
            while (!_ended && filled < buffer.Length)
            {
                var read = _file.Read(buffer, filled, buffer.Length - filled);
                _ended |= read == 0;
                _hash.AppendData(buffer, filled, read);
                filled += read;
            }

            // A quote behind the byte order mark opens a cell: to the reader of records the mark is not there.
            var mark = _offset == 0 && buffer.AsSpan(0, filled).StartsWith("\uFEFF"u8) ? 3 : 0;
            var end = RecordEnd.Last(buffer.AsSpan(mark, filled - mark), _separator, out var openQuote);
            if (end > 0) end += mark;
            if (openQuote >= 0) openQuote += mark;
            if (_ended)
            {
                if (openQuote >= 0) throw Unclosed(buffer.AsSpan(0, openQuote));
                end = filled;
            }

            if (end > 0 || _ended)
                return Cut(buffer, filled, end);
            if (filled > MaximumRecord) throw openQuote >= 0
                ? Unended(_file, _name, _lines + RecordEnd.LineBreaks(buffer.AsSpan(0, openQuote)) + 1, "16 MiB")
                : new Failure(ExitCode.Input,
                "a row of more than 16 MiB starts here; line breaks are missing", _name, _lines + 1);
            Array.Resize(ref buffer, buffer.Length * 2);
        }
    }

    /// <summary>The file stays open: it is the caller's.</summary>
    public void Dispose() => _hash.Dispose();

    private Block? Cut(byte[] buffer, int filled, int end)
    {
        // A heading without rows gives one empty block, so that its columns are on record.
        if (filled == 0 && (_index > 0 || _offset == 0)) return null;
        _rest = buffer.AsSpan(end, filled - end).ToArray();
        var bytes = buffer.AsMemory(0, end);
        if (!Utf8.IsValid(bytes.Span))
            throw new Failure(ExitCode.Input, NotUtf8, _name, rule: "not_utf8");
        if (bytes.Span.IndexOf((byte)0) is var zero and >= 0)
            throw new Failure(ExitCode.Input, NulByte, _name, _lines + RecordEnd.LineBreaks(bytes.Span[..zero]) + 1, "not_text");
        var block = new Block(bytes, _offset, _lines, _index++);
        _offset += end;
        _lines += RecordEnd.LineBreaks(bytes.Span);
        return block;
    }

    private Failure Unclosed(ReadOnlySpan<byte> before) => Unclosed(_name, _lines + RecordEnd.LineBreaks(before) + 1);

    /// <summary>What is wrong with a quoted cell that has not ended within what was read: it is never closed, or only too long.</summary>
    /// <param name="rest">What follows what was read.</param>
    /// <param name="name">The file's name in messages.</param>
    /// <param name="line">Where the cell opens.</param>
    /// <param name="read">How much was read, in words.</param>
    internal static Failure Unended(Stream rest, string name, int line, string read)
    {
        var buffer = new byte[1 << 16];
        var isDoubled = false;
        for (var length = rest.Read(buffer); length > 0; length = rest.Read(buffer))
            for (var at = 0; at < length; at++)
            {
                if (isDoubled && buffer[at] != (byte)'"') return TooLong();
                isDoubled = !isDoubled && buffer[at] == (byte)'"';
            }

        return isDoubled ? TooLong() : Unclosed(name, line);

        Failure TooLong() => new(ExitCode.Input,
            $"a cell of more than {read} starts here; shorten it, or leave its column out of the export", name, line, "cell_limit");
    }

    internal static Failure Unclosed(string name, int line) => new(ExitCode.Input,
        "a quotation mark opens a cell here and is never closed, so the rows after it cannot be told apart; close it or remove it", name,
        line, "unclosed_quote");
}
