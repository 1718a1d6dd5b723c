using System.Numerics;
using System.Runtime.CompilerServices;
using System.Text;

namespace Outcomes.Ingestion.Parsing;

/// <summary>
/// From a cell's bytes to a small number with one multiplication and one comparison: a perfect hash over the words that the
/// column may hold. This is the hottest look-up of all, once a cell; a general dictionary costs several times as much.
/// </summary>
public sealed class WordTable
{
    private readonly byte[][] _words;
    private readonly int[] _values;
    private readonly short[] _slots;
    private readonly ulong _multiplier;
    private readonly int _shift;

    /// <param name="words">Distinct words and the number that each stands for.</param>
    public WordTable(IReadOnlyDictionary<string, int> words)
    {
        _words = [.. words.Keys.Select(Encoding.UTF8.GetBytes)];
        _values = [.. words.Values];
        var bits = Math.Max(2, BitOperations.Log2((uint)Math.Max(1, _words.Length)) + 2);
        for (; ; bits++)
            for (var seed = 1ul; seed < 2000; seed++)
                if (TryFill(seed * 0x9E3779B97F4A7C15ul | 1, bits) is { } slots)
                {
                    (_slots, _multiplier, _shift) = (slots, seed * 0x9E3779B97F4A7C15ul | 1, 64 - bits);
                    return;
                }
    }

    /// <summary>The number that the cell stands for; false when it is none of the words.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool TryFind(ReadOnlySpan<byte> cell, out int value)
    {
        var index = _slots[(int)(Mix(cell) * _multiplier >> _shift)] - 1;
        if (index >= 0 && cell.SequenceEqual(_words[index]))
        {
            value = _values[index];
            return true;
        }

        value = 0;
        return false;
    }

    private short[]? TryFill(ulong multiplier, int bits)
    {
        var slots = new short[1 << bits];
        for (var i = 0; i < _words.Length; i++)
        {
            ref var slot = ref slots[(int)(Mix(_words[i]) * multiplier >> (64 - bits))];
            if (slot != 0) return null;
            slot = (short)(i + 1);
        }

        return slots;
    }

    // Length, head and tail tell most words apart; every byte is folded in, so that any two words can be separated.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static ulong Mix(ReadOnlySpan<byte> cell)
    {
        var hash = (ulong)cell.Length * 0xD6E8FEB86659FD93ul;
        while (cell.Length >= 8)
        {
            hash = (hash ^ System.Buffers.Binary.BinaryPrimitives.ReadUInt64LittleEndian(cell)) * 0xA0761D6478BD642Ful;
            hash ^= hash >> 32;
            cell = cell[8..];
        }

        var tail = 0ul;
        foreach (var b in cell)
            tail = (tail << 8) | b;
        return (hash ^ tail) * 0xE7037ED1A0B428DBul;
    }
}
