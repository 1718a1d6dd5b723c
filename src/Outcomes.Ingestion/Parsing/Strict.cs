using System.Buffers.Text;
using System.Runtime.CompilerServices;

namespace Outcomes.Ingestion.Parsing;

/// <summary>
/// Strict readings of a cell. Library parsers are lenient where a clinical value must not be: they take <c>0x10</c>, <c>1e2</c>,
/// <c>98.6</c> as an integer, or stop at the first odd character. Here the whole cell is the value, or there is none.
/// </summary>
public static class Strict
{
    private const int MaximumDigits = 15;

    private static readonly double[] PowersOfTen = [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

    /// <summary>The cell without spaces, tabs and non-breaking spaces at its ends.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static ReadOnlySpan<byte> Trim(ReadOnlySpan<byte> cell)
    {
        if (cell.IsEmpty || (cell[0] > (byte)' ' && cell[0] < 0x80 && cell[^1] > (byte)' ' && cell[^1] < 0x80))
            return cell;
        while (true)
        {
            var before = cell.Length;
            cell = cell.Trim(" \t\r\n"u8);
            if (cell.StartsWith("\u00A0"u8)) cell = cell[2..];
            if (cell.EndsWith("\u00A0"u8)) cell = cell[..^2];
            if (cell.Length == before) return cell;
        }
    }

    /// <summary>An optional minus and 1 to 9 digits; no plus, no point, no exponent, no separators.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static bool TryInteger(ReadOnlySpan<byte> cell, out int value)
    {
        value = 0;
        var negative = !cell.IsEmpty && cell[0] == (byte)'-';
        var digits = negative ? cell[1..] : cell;
        if (digits.Length is 0 or > 9)
            return false;
        foreach (var b in digits)
        {
            var digit = b - (uint)'0';
            if (digit > 9)
                return false;
            value = (value * 10) + (int)digit;
        }

        if (negative) value = -value;
        return true;
    }

    /// <summary>
    /// An optional minus, digits, and optionally a point with digits after it; at most 15 digits, so it is exactly rounded.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static bool TryNumber(ReadOnlySpan<byte> cell, out double value)
    {
        value = 0;
        var negative = !cell.IsEmpty && cell[0] == (byte)'-';
        var text = negative ? cell[1..] : cell;
        long mantissa = 0;
        int digits = 0, decimals = -1;
        foreach (var b in text)
        {
            if (b == (byte)'.' && decimals < 0 && digits > 0)
            {
                decimals = 0;
                continue;
            }

            var digit = b - (uint)'0';
            if (digit > 9 || ++digits > MaximumDigits)
                return false;
            mantissa = (mantissa * 10) + digit;
            if (decimals >= 0) decimals++;
        }

        if (digits == 0 || decimals == 0)
            return false;
        value = decimals > 0 ? mantissa / PowersOfTen[decimals] : mantissa;
        if (negative) value = 0 - value; // so that -0 is 0
        return true;
    }

    /// <summary>
    /// As <see cref="TryNumber"/>, with a comma for the point; a point is then no number, since it might group thousands.
    /// </summary>
    public static bool TryCommaNumber(ReadOnlySpan<byte> cell, out double value)
    {
        value = 0;
        Span<byte> text = stackalloc byte[MaximumDigits + 2];
        if (cell.Length > text.Length || cell.Contains((byte)'.')) return false;
        cell.Replace(text, (byte)',', (byte)'.');
        return TryNumber(text[..cell.Length], out value);
    }

    /// <summary>Two digits at <paramref name="at"/>; -1 when they are not digits.</summary>
    internal static int Digits(ReadOnlySpan<byte> cell, int at, int count)
    {
        if (at + count > cell.Length || !Utf8Parser.TryParse(cell.Slice(at, count), out int value, out var used, 'D') || used != count
            || !char.IsAsciiDigit((char)cell[at]))
            return -1;
        return value;
    }
}
