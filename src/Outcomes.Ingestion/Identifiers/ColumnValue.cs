using Outcomes.Ingestion.Identifiers.National;
using Outcomes.Ingestion.Store;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>What is asked of a column as a whole.</summary>
[Flags]
public enum WholeColumn : ushort
{
    None = 0,

    /// <summary>Do its values repeat, as words and codes do?</summary>
    Unique = 1,

    /// <summary>Is it a list of names?</summary>
    Names = 2,

    /// <summary>Are its dates, months, years or serial numbers those of births?</summary>
    Births = 4,

    /// <summary>Do its numbers pass a country's check digits?</summary>
    National = 8,

    /// <summary>Are its letters initials?</summary>
    Initials = 16,

    /// <summary>Is it a list of addresses?</summary>
    Addresses = 32,

    /// <summary>Is it a list of number plates?</summary>
    Plates = 64,

    /// <summary>Is it a list of telephone numbers?</summary>
    Phones = 128,

    /// <summary>Is it a list of numbers of seven digits and more that do not run on?</summary>
    Digits = 256,
}

/// <summary>A cell as evidence of its column; nothing of its text remains but hashes.</summary>
/// <param name="Hash">Of the whole cell.</param>
/// <param name="Length">Its length in bytes, at most 255.</param>
/// <param name="Form">What it looks like.</param>
/// <param name="Year">The year of a date, a month, a year or a serial number.</param>
/// <param name="First">
/// Hash of a name's first word; a serial number; the first letter of initials; a date's month; the first three of many digits.
/// </param>
/// <param name="Last">Hash of its last word.</param>
public readonly record struct ColumnValue(ulong Hash, byte Length, CellForm Form, short Year, int First, int Last)
{
    private const int LongestForm = 80;

    // Days from 1900 to 2099 as spreadsheets count them; earlier ones are numbers.
    private const int FirstSerial = 3_000;
    private const int LastSerial = 73_050;

    /// <summary>Systems of national numbers that the cell passes for.</summary>
    public NationalSystems Passed { get; init; }

    /// <summary>Systems that its shape would allow.</summary>
    public NationalSystems Shape { get; init; }

    /// <summary>Reads a cell.</summary>
    public static ColumnValue Of(ReadOnlySpan<byte> cell)
    {
        var (hash, length) = (KeyHash.Of(cell), (byte)Math.Min(cell.Length, byte.MaxValue));
        var other = new ColumnValue(hash, length, CellForm.Other, 0, 0, 0);
        if (cell.Length is < 2 or > LongestForm) return other;
        other = other with { Passed = NationalText.OfCell(cell, out var shape), Shape = shape };
        if (IsPhone(cell)) return other with { Form = CellForm.Phone };
        var digit = cell[0] - (uint)'0' <= 9;
        if (digit && (cell.Length < 6 || !cell.ContainsAnyExceptInRange((byte)'0', (byte)'9'))) return OfDigits(cell, other);
        // Codes of letters and digits without a blank are none of these forms, but for plates.
        if (!digit && cell[0] < (byte)'A') return other;
        Span<char> text = stackalloc char[LongestForm];
        text = text[..System.Text.Encoding.UTF8.GetChars(cell, text)];
        text.Replace('\u00A0', ' ');
        if (BirthDates.YearOf(text) is var year and > 0)
            return other with { Form = CellForm.Date, Year = (short)year, First = BirthDates.MonthOf(text) };
        return OfWords(text, other, digit);
    }

    // Digits and what groups them, from a plus, a bracket or a zero on; a date has fewer digits or another beginning.
    private static bool IsPhone(ReadOnlySpan<byte> cell)
    {
        if (cell.Length is < 8 or > 24 || cell[0] is not ((byte)'0' or (byte)'+' or (byte)'(')) return false;
        var digits = 0;
        foreach (var b in cell)
        {
            if (b - (uint)'0' <= 9) digits++;
            else if (b is not ((byte)' ' or (byte)'-' or (byte)'.' or (byte)'/' or (byte)'(' or (byte)')' or (byte)'+')) return false;
        }

        return digits is >= 9 and <= 15;
    }

    private static ColumnValue OfDigits(ReadOnlySpan<byte> cell, ColumnValue other)
    {
        if (cell.ContainsAnyExceptInRange((byte)'0', (byte)'9')) return other;
        if (cell.Length is 7 or (> 8 and <= 12)) return OfManyDigits(cell, other);
        if (cell.Length is not (4 or 5 or 6 or 8)) return other;
        Span<char> text = stackalloc char[8];
        text = text[..System.Text.Encoding.UTF8.GetChars(cell, text)];
        if (text.Length >= 6)
            return BirthDates.YearOf(text) is var year and > 0
                ? other with { Form = CellForm.Date, Year = (short)year, First = BirthDates.MonthOf(text) }
                : cell.Length == 8 ? OfManyDigits(cell, other) : other;
        var number = int.Parse(text, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture);
        if (text.Length == 4 && number is >= 1880 and < 2100) return other with { Form = CellForm.Year, Year = (short)number };
        return number is >= FirstSerial and < LastSerial
            ? other with { Form = CellForm.Serial, Year = (short)DateTime.FromOADate(number).Year, First = number }
            : other;
    }

    private static ColumnValue OfGroups(ReadOnlySpan<char> text, ColumnValue other)
    {
        Span<byte> digits = stackalloc byte[12];
        var count = 0;
        foreach (var c in text)
        {
            if (char.IsAsciiDigit(c) && count < digits.Length) digits[count++] = (byte)c;
            else if (c is not (' ' or '-' or '.' or '/')) return other;
        }

        return count >= 7 ? OfManyDigits(digits[..count], other) : other;
    }

    private static ColumnValue OfManyDigits(ReadOnlySpan<byte> cell, ColumnValue other) =>
        other with { Form = CellForm.Digits, First = ((cell[0] * 100) + (cell[1] * 10) + cell[2]) - ('0' * 111) };

    private static ColumnValue OfWords(ReadOnlySpan<char> text, ColumnValue other, bool digit)
    {
        var digits = text.ContainsAnyInRange('0', '9');
        if (digits)
        {
            if (digit && OfGroups(text, other) is { Form: CellForm.Digits } number) return number;
            if (Plates.Are(text)) return other with { Form = CellForm.Plate };
            return !text.Contains(' ') ? other
                : Streets.Find(text) ? other with { Form = CellForm.Street }
                : Streets.Are(text) ? other with { Form = CellForm.Address }
                : other;
        }

        if (digit) return other;
        if (Names.AreInitials(text)) return other with { Form = CellForm.Initials, First = char.ToUpperInvariant(text[0]) };
        var form = Names.Of(text, out var first, out var last);
        if (form == CellForm.Other && char.IsLower(text[0])) form = Names.OfLower(text, out first, out last);
        return form == CellForm.Other ? other : other with { Form = form, First = first, Last = last };
    }
}

