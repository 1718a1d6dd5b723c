namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Ten-digit numbers and their check digit. NHS, CHI and Health and Care numbers share it: modulus 11, weights 10 to 2 on the
/// first nine digits, 11 minus the remainder, 11 as 0, 10 never issued (NHS Data Dictionary, "NHS NUMBER").
/// </summary>
public static class TenDigits
{
    private const int Length = 10;

    /// <summary>True when the tenth digit is the check digit of the nine before it.</summary>
    public static bool Pass(ReadOnlySpan<byte> digits)
    {
        if (digits.Length != Length) return false;
        var sum = 0;
        for (var i = 0; i < Length - 1; i++)
            sum += (digits[i] - '0') * (Length - i);
        var check = 11 - (sum % 11);
        return check != 10 && check % 11 == digits[9] - '0';
    }

    /// <summary>What ten-digit numbers a text holds: alone, within a sentence, grouped, or as a spreadsheet writes them.</summary>
    public static Identifier Find(ReadOnlySpan<byte> text)
    {
        var found = Whole(text);
        for (var i = 0; i < text.Length; i++)
        {
            if (!IsDigit(text[i])) continue;
            if (StartsNumber(text, i)) found |= At(text[i..]);
            while (i + 1 < text.Length && IsDigit(text[i + 1])) i++;
        }

        return Strongest(found);
    }

    // One cell counts once: as the strongest of what it holds.
    private static Identifier Strongest(Identifier found)
    {
        foreach (var kind in (ReadOnlySpan<Identifier>)[Identifier.NhsForm, Identifier.HealthAndCare, Identifier.Chi, Identifier.NhsNumber])
            if ((found & kind) != 0)
                return kind | Identifier.TenDigits;
        return found & (IdentifierSets.Counted | Identifier.Rounded);
    }

    // A cell of nothing but ten digits and separators is a number however it is grouped.
    private static Identifier Whole(ReadOnlySpan<byte> text)
    {
        Span<byte> digits = stackalloc byte[Length];
        var count = 0;
        for (var i = 0; i < text.Length;)
        {
            if (IsDigit(text[i]))
            {
                if (count == Length) return Identifier.None;
                digits[count++] = text[i++];
            }
            else if (Separator(text[i..]) is var width and > 0)
            {
                i += width;
            }
            else
            {
                return Identifier.None;
            }
        }

        return count == Length ? Of(digits, Identifier.None) : Identifier.None;
    }

    private static bool StartsNumber(ReadOnlySpan<byte> text, int i)
    {
        if (i == 0) return true;
        var before = text[i - 1];
        if (before == (byte)'.' && i > 1 && IsDigit(text[i - 2])) return false;
        return !IsWord(before) || Announced(text[..i]);
    }

    private static bool Announced(ReadOnlySpan<byte> before) =>
        before.Length >= 3 && ((before[^3] | 0x20, before[^2] | 0x20, before[^1] | 0x20) is ('n', 'h', 's') or ('c', 'h', 'i')
            or ('h', 'c', 'n')) && (before.Length == 3 || !IsWord(before[^4]));

    private static Identifier At(ReadOnlySpan<byte> text)
    {
        if (Grouped(text) is var grouped and not Identifier.None) return grouped;
        if (InTwo(text) is var halves and not Identifier.None) return halves;
        if (Exponent(text) is var exponent and not Identifier.None) return exponent;
        var run = Run(text);
        if (run != Length) return Identifier.None;
        var rest = text[run..];
        // 9990000018.0 is what a number column makes of it; 9990000018.5 is a quantity.
        if (rest.Length > 1 && rest[0] == (byte)'.' && IsDigit(rest[1]))
            rest = rest[1..].TrimStart((byte)'0') is var tail && (tail.IsEmpty || !IsDigit(tail[0])) ? tail : "x"u8;
        return rest.IsEmpty || !IsWord(rest[0]) ? Of(text[..Length], Identifier.None) : Identifier.None;
    }

    private static Identifier Grouped(ReadOnlySpan<byte> text)
    {
        if (Run(text) != 3) return Identifier.None;
        var first = Separator(text[3..]);
        if (first == 0 || Run(text[(3 + first)..]) != 3) return Identifier.None;
        var second = Separator(text[(6 + first)..]);
        if (second == 0 || Run(text[(6 + first + second)..]) != 4) return Identifier.None;
        var end = Length + first + second;
        if (end < text.Length && IsWord(text[end])) return Identifier.None;
        Span<byte> digits = stackalloc byte[Length];
        text[..3].CopyTo(digits);
        text.Slice(3 + first, 3).CopyTo(digits[3..]);
        text.Slice(6 + first + second, 4).CopyTo(digits[6..]);
        return Of(digits, Identifier.NhsForm);
    }

    // 99900 00018 and 999 0000018 within a sentence: two groups, when the check digit is right.
    private static Identifier InTwo(ReadOnlySpan<byte> text)
    {
        var first = Run(text);
        if (first is not (3 or 5)) return Identifier.None;
        var width = Separator(text[first..]);
        if (width == 0 || text[first] == (byte)'.' || Run(text[(first + width)..]) != Length - first) return Identifier.None;
        if (Length + width is var end && end < text.Length && IsWord(text[end])) return Identifier.None;
        Span<byte> digits = stackalloc byte[Length];
        text[..first].CopyTo(digits);
        text.Slice(first + width, Length - first).CopyTo(digits[first..]);
        return Of(digits, Identifier.None) & ~IdentifierSets.Counted;
    }

    // 9.990000018E+09 keeps every digit; 9.99E+09 has lost the check digit.
    private static Identifier Exponent(ReadOnlySpan<byte> text)
    {
        if (Run(text) != 1 || text[0] == (byte)'0') return Identifier.None;
        var decimals = text.Length > 1 && text[1] is (byte)'.' or (byte)',' ? Run(text[2..]) : 0;
        var rest = text[(decimals > 0 ? 2 + decimals : 1)..];
        if (rest.IsEmpty || (rest[0] | 0x20) != 'e') return Identifier.None;
        rest = rest[1..];
        if (rest.StartsWith("+"u8)) rest = rest[1..];
        rest = rest.TrimStart((byte)'0');
        if (rest.IsEmpty || rest[0] != (byte)'9' || (rest.Length > 1 && (IsWord(rest[1]) || rest[1] == (byte)'-')) || decimals > Length - 1)
            return Identifier.None;
        if (decimals < Length - 1) return Identifier.Rounded;
        Span<byte> digits = stackalloc byte[Length];
        digits[0] = text[0];
        text.Slice(2, Length - 1).CopyTo(digits[1..]);
        return Of(digits, Identifier.None);
    }

    // Ten equal digits pass the check and are what a form is filled with when there is no number.
    private static Identifier Of(ReadOnlySpan<byte> digits, Identifier form)
    {
        if (!digits.ContainsAnyExcept(digits[0])) return Identifier.None;
        if (!Pass(digits)) return Identifier.TenDigits;
        if (form != Identifier.None) return Identifier.TenDigits | form;
        return Identifier.TenDigits | (InHealthAndCareRange(digits) ? Identifier.HealthAndCare
            : StartsWithADate(digits) ? Identifier.Chi
            : IsIssued(digits) ? Identifier.NhsNumber
            : Identifier.Unissued);
    }

    // Ranges as third-party documents give them: 320 000 001x to 399 999 999x.
    private static bool InHealthAndCareRange(ReadOnlySpan<byte> digits) => digits[0] == (byte)'3' && digits[1] >= (byte)'2';

    // 300 to 399, 400 to 499 and 600 to 799 millions, and 999 for tests, as the same documents give them. A whole column of others is
    // still refused by its share: the ranges may be extended.
    private static bool IsIssued(ReadOnlySpan<byte> digits) =>
        digits[0] is (byte)'3' or (byte)'4' or (byte)'6' or (byte)'7' || digits.StartsWith("999"u8);

    private static bool StartsWithADate(ReadOnlySpan<byte> digits)
    {
        var (day, month) = (((digits[0] - '0') * 10) + digits[1] - '0', ((digits[2] - '0') * 10) + digits[3] - '0');
        return month is >= 1 and <= 12 && day >= 1 && day <= DateTime.DaysInMonth(2000, month);
    }

    private static int Run(ReadOnlySpan<byte> text)
    {
        var run = 0;
        while (run < text.Length && IsDigit(text[run])) run++;
        return run;
    }

    private static int Separator(ReadOnlySpan<byte> text) =>
        text.IsEmpty ? 0
        : text[0] is (byte)' ' or (byte)'-' or (byte)'.' ? 1
        : text.StartsWith("\u00A0"u8) ? 2
        : text.StartsWith("\u2013"u8) || text.StartsWith("\u2011"u8) ? 3
        : 0;

    private static bool IsDigit(byte b) => b - (uint)'0' <= 9;

    private static bool IsWord(byte b) => IsDigit(b) || (b | 0x20u) - 'a' <= 'z' - 'a' || b == (byte)'_';
}
