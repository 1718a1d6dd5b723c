using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace Outcomes.Ingestion.Store;

/// <summary>What ingestion alone knows of a row.</summary>
[Flags]
public enum RowMarks : byte
{
    None = 0,

    /// <summary>Quarantined whatever the pipeline says: bad key or date, ragged.</summary>
    Held = 1,

    /// <summary>Has a bad cell: quarantined when the pipeline is strict.</summary>
    CellFault = 2,

    /// <summary>Its status column says deleted.</summary>
    Deleted = 4,

    /// <summary>Carries attempts in columns.</summary>
    HasAttempts = 8,
}

/// <summary>Keys, places and marks of a block of rows: what the ledger needs, without opening the Parquet file.</summary>
public sealed class RowIndexBlock
{
    public int Count { get; set; }

    /// <summary>64-bit hash of the key; 0 where the row has none.</summary>
    public ulong[] Hash { get; set; } = [];

    /// <summary>Byte offset of the row in the file.</summary>
    public long[] Offset { get; set; } = [];

    public int[] Line { get; set; } = [];

    public RowMarks[] Marks { get; set; } = [];

    /// <summary>Attempt number of rows that are attempts; 0 elsewhere.</summary>
    public int[] Attempt { get; set; } = [];

    /// <summary>Where each key ends in <see cref="Keys"/>.</summary>
    public int[] KeyEnd { get; set; } = [];

    public byte[] Keys { get; set; } = [];

    public int KeyBytes { get; set; }

    public ReadOnlySpan<byte> Key(int i)
    {
        var start = i == 0 ? 0 : KeyEnd[i - 1];
        return Keys.AsSpan(start, KeyEnd[i] - start);
    }

    public void Reset(int rows)
    {
        (Count, KeyBytes) = (0, 0);
        if (Hash.Length < rows) Grow(rows);
    }

    public void Add(ReadOnlySpan<byte> key, long offset, int line, RowMarks marks, int attempt)
    {
        if (Count == Hash.Length) Grow(Math.Max(1024, Count * 2));
        if (KeyBytes + key.Length > Keys.Length)
        {
            var keys = Keys;
            Array.Resize(ref keys, Math.Max(keys.Length * 2, KeyBytes + key.Length + 4096));
            Keys = keys;
        }

        key.CopyTo(Keys.AsSpan(KeyBytes));
        KeyBytes += key.Length;
        (Hash[Count], Offset[Count], Line[Count], Marks[Count], Attempt[Count], KeyEnd[Count]) =
            (KeyHash.Of(key), offset, line, marks, attempt, KeyBytes);
        Count++;
    }

    private void Grow(int rows)
    {
        Hash = Sized(Hash, rows);
        Offset = Sized(Offset, rows);
        Line = Sized(Line, rows);
        Marks = Sized(Marks, rows);
        Attempt = Sized(Attempt, rows);
        KeyEnd = Sized(KeyEnd, rows);
    }

    private static T[] Sized<T>(T[] array, int rows)
    {
        Array.Resize(ref array, rows);
        return array;
    }
}

/// <summary>The row index as a file: blocks one after another, each a fixed head and its arrays.</summary>
public static class RowIndex
{
    private const int Head = 8;

    public static void Append(Stream file, RowIndexBlock block)
    {
        Span<byte> head = stackalloc byte[Head];
        BinaryPrimitives.WriteInt32LittleEndian(head, block.Count);
        BinaryPrimitives.WriteInt32LittleEndian(head[4..], block.KeyBytes);
        file.Write(head);
        file.Write(MemoryMarshal.AsBytes(block.Hash.AsSpan(0, block.Count)));
        file.Write(MemoryMarshal.AsBytes(block.Offset.AsSpan(0, block.Count)));
        file.Write(MemoryMarshal.AsBytes(block.Line.AsSpan(0, block.Count)));
        file.Write(MemoryMarshal.AsBytes(block.Marks.AsSpan(0, block.Count)));
        file.Write(MemoryMarshal.AsBytes(block.Attempt.AsSpan(0, block.Count)));
        file.Write(MemoryMarshal.AsBytes(block.KeyEnd.AsSpan(0, block.Count)));
        file.Write(block.Keys.AsSpan(0, block.KeyBytes));
    }

    /// <summary>The blocks in file order; the same object is refilled, so a caller keeps nothing of it.</summary>
    public static IEnumerable<RowIndexBlock> Read(string path)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16);
        var block = new RowIndexBlock();
        var head = new byte[Head];
        while (file.ReadAtLeast(head, Head, throwOnEndOfStream: false) == Head)
        {
            var count = BinaryPrimitives.ReadInt32LittleEndian(head);
            var keys = BinaryPrimitives.ReadInt32LittleEndian(head.AsSpan(4));
            block.Reset(count);
            if (block.Keys.Length < keys) block.Keys = new byte[keys];
            (block.Count, block.KeyBytes) = (count, keys);
            Fill(file, block.Hash, count);
            Fill(file, block.Offset, count);
            Fill(file, block.Line, count);
            Fill(file, block.Marks, count);
            Fill(file, block.Attempt, count);
            Fill(file, block.KeyEnd, count);
            file.ReadExactly(block.Keys.AsSpan(0, keys));
            yield return block;
        }
    }

    private static void Fill<T>(FileStream file, T[] array, int count)
        where T : unmanaged => file.ReadExactly(MemoryMarshal.AsBytes(array.AsSpan(0, count)));
}

/// <summary>A 64-bit hash of a key's bytes: the same on every machine, for accidents and not against an adversary.</summary>
public static class KeyHash
{
    /// <summary>The hash; 0 for an empty key and never otherwise.</summary>
    public static ulong Of(ReadOnlySpan<byte> key)
    {
        if (key.IsEmpty) return 0;
        var hash = 0x9E3779B97F4A7C15ul ^ (ulong)key.Length;
        while (key.Length >= 8)
        {
            hash = Fold(hash ^ BinaryPrimitives.ReadUInt64LittleEndian(key));
            key = key[8..];
        }

        var tail = 0ul;
        foreach (var b in key)
            tail = (tail << 8) | b;
        hash = Fold(hash ^ tail ^ 0xA0761D6478BD642Ful);
        return hash == 0 ? 1 : hash;
    }

    private static ulong Fold(ulong value)
    {
        var high = Math.BigMul(value, 0xE7037ED1A0B428DBul, out var low);
        return high ^ low;
    }
}
