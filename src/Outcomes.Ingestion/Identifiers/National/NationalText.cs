namespace Outcomes.Ingestion.Identifiers.National;

/// <summary>
/// National numbers within a text. A number with letters of its own, or grouped the way its country prints it, is told from a code by
/// its check digits; bare digits that pass a single check digit are only counted for their column (<see cref="OfCell"/>).
/// </summary>
public static class NationalText
{
    /// <summary>The longest number without separators.</summary>
    private const int Longest = 16;

    private const int Shortest = 7;

    // Groups of digits as printed, each a hexadecimal digit: 6-4 is 0x64.
    private static readonly (NationalSystems Systems, int Groups)[] Refusing =
    [
        (NationalSystems.Nir, 0x1222332), (NationalSystems.Personnummer, 0x64),
        (NationalSystems.Personnummer, 0x84), (NationalSystems.Henkilotunnus, 0x64), (NationalSystems.Fodselsnummer, 0x65),
        (NationalSystems.Rijksregister, 0x22232), (NationalSystems.Ahv, 0x3442), (NationalSystems.Mbi, 0x434),
        (NationalSystems.Ihi, 0x4444), (NationalSystems.Ihi, 0x10), (NationalSystems.CodiceFiscale, 0x10),
        (NationalSystems.CodiceFiscale, 0x3355),
    ];

    private static readonly (NationalSystems Systems, int Groups)[] Suspect =
    [
        (NationalSystems.Nir, 0xF), (NationalSystems.Nir, 0xD2), (NationalSystems.Personnummer, 0xC), (NationalSystems.Henkilotunnus, 0xB),
        (NationalSystems.Fodselsnummer, 0xB), (NationalSystems.Rijksregister, 0xB), (NationalSystems.Rijksregister, 0x632),
        (NationalSystems.Ahv, 0xD), (NationalSystems.Mbi, 0xB), (NationalSystems.Kvnr, 0xA), (NationalSystems.Dni, 0x9),
        (NationalSystems.Dni, 0x81), (NationalSystems.Dni, 0x171), (NationalSystems.Ppsn, 0x8), (NationalSystems.Ppsn, 0x9),
        (NationalSystems.Nino, 0x9), (NationalSystems.Nino, 0x22221), (NationalSystems.Cpr, 0x64), (NationalSystems.Kennitala, 0x64),
        (NationalSystems.Svnr, 0x46), (NationalSystems.Medicare, 0x451), (NationalSystems.Medicare, 0x4511), (NationalSystems.Sin, 0x333),
        (NationalSystems.Bsn, 0x423), (NationalSystems.SteuerId, 0x2333),
    ];

    /// <summary>
    /// <see cref="Identifier.NationalForm"/> for a number whose printed form and check digits leave little doubt, else
    /// <see cref="Identifier.NationalNumber"/> for one that passes in a form of its own.
    /// </summary>
    public static Identifier Find(ReadOnlySpan<byte> text)
    {
        var found = Identifier.None;
        for (var i = 0; i < text.Length; i++)
        {
            if (Letter(text[i]) == 0) continue;
            found |= From(text[i..]);
            if ((found & Identifier.NationalForm) != 0) return Identifier.NationalForm;
            while (i + 1 < text.Length && Letter(text[i + 1]) != 0) i++;
        }

        return found;
    }

    /// <summary>What a whole cell passes for, separators left out, and what its shape would allow.</summary>
    public static NationalSystems OfCell(ReadOnlySpan<byte> cell, out NationalSystems shape)
    {
        shape = NationalSystems.None;
        if (cell.Length is < Shortest or > 24) return NationalSystems.None;
        Span<byte> number = stackalloc byte[Longest];
        var (length, groups, size) = (0, 0, 0);
        foreach (var b in cell)
        {
            if (Letter(b) is var letter and not 0)
            {
                if (length == Longest) return NationalSystems.None;
                number[length++] = letter;
                size++;
            }
            else if (b is (byte)' ' or (byte)'-' or (byte)'.' or (byte)'/' or (byte)'+' && size > 0)
            {
                (groups, size) = ((groups << 4) | size, 0);
            }
            else
            {
                return NationalSystems.None;
            }
        }

        if (length < Shortest) return NationalSystems.None;
        number = number[..length];
        if (((groups << 4) | size) == 0x324 && IsSsn(number))
        {
            shape = NationalSystems.Ssn;
            return NationalSystems.Ssn;
        }

        shape = NationalNumbers.ShapeOf(number);
        return shape == NationalSystems.None ? shape : NationalNumbers.PassedBy(number);
    }

    // Groups from a start on, each end of a group a possible end of the number.
    private static Identifier From(ReadOnlySpan<byte> text)
    {
        Span<byte> number = stackalloc byte[Longest];
        var (length, groups, size, digits, found) = (0, 0, 0, 0, Identifier.None);
        for (var i = 0; i < text.Length; i++)
        {
            if (Letter(text[i]) is var letter and not 0)
            {
                if (length == Longest) return found;
                number[length++] = letter;
                size++;
                if (letter <= (byte)'9') digits++;
                if (i + 1 < text.Length && Letter(text[i + 1]) != 0) continue;
                if (length >= Shortest && digits >= 4) found |= Of(number[..length], (groups << 4) | size);
            }
            else if (text[i] is (byte)' ' or (byte)'-' or (byte)'.' or (byte)'/' or (byte)'+' && size > 0)
            {
                (groups, size) = ((groups << 4) | size, 0);
            }
            else
            {
                return found;
            }
        }

        return found;
    }

    private static Identifier Of(ReadOnlySpan<byte> number, int groups)
    {
        if (groups == 0x324) return IsSsn(number) ? Identifier.NationalNumber : Identifier.None;
        var passed = NationalSystems.None;
        foreach (var (system, form) in Refusing)
            if (form == groups && ((passed = Passed(number, passed)) & system) != 0) return Identifier.NationalForm;
        foreach (var (system, form) in Suspect)
            if (form == groups && ((passed = Passed(number, passed)) & system) != 0) return Identifier.NationalNumber;
        return Identifier.None;
    }

    private static NationalSystems Passed(ReadOnlySpan<byte> number, NationalSystems known) =>
        known != NationalSystems.None ? known : NationalNumbers.PassedBy(number);

    // Social Security Administration: no area 000, 666 or from 900 on, no group 00, no serial 0000.
    private static bool IsSsn(ReadOnlySpan<byte> number) => number.Length == 9 && !number.ContainsAnyExceptInRange((byte)'0', (byte)'9')
        && !number.StartsWith("000"u8) && !number.StartsWith("666"u8) && number[0] != (byte)'9'
        && !number[3..].StartsWith("00"u8) && !number.EndsWith("0000"u8);

    // A digit or a capital letter; 0 for anything else.
    private static byte Letter(byte b) => b - (uint)'0' <= 9 ? b : (b | 0x20u) - 'a' <= 25 ? (byte)(b & ~0x20) : (byte)0;
}
