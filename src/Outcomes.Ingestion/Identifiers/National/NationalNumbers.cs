using static Outcomes.Ingestion.Identifiers.National.CheckDigits;

namespace Outcomes.Ingestion.Identifiers.National;

/// <summary>
/// Which national numbers a row of letters and digits could be, by its length and its check digits. Each rule is our own reading of
/// the public description named beside it.
/// </summary>
public static class NationalNumbers
{
    /// <summary>The systems, in the order of their bits.</summary>
    public const int Count = 23;

    private const string FinnishCheck = "0123456789ABCDEFHJKLMNPRSTUVWXY";
    private const string SpanishCheck = "TRWAGMYFPDXBNJZSQVHLCKE";
    private const string IrishCheck = "WABCDEFGHIJKLMNOPQRSTUV";
    private const string NewZealandLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ";

    /// <summary>
    /// The chance that letters and digits of the right shape pass, at most: ten digits of which the first six must be a date pass one
    /// check digit about 4 times in 1,000.
    /// </summary>
    public static double ChanceOf(NationalSystems one) => one switch
    {
        NationalSystems.Bsn or NationalSystems.Kvnr or NationalSystems.SteuerId or NationalSystems.Sin or NationalSystems.Nhi
            or NationalSystems.Nino => 0.1,
        NationalSystems.Medicare or NationalSystems.Dni or NationalSystems.Ppsn or NationalSystems.CodiceFiscale => 0.05,
        NationalSystems.Pesel => 0.02,
        NationalSystems.Mbi => 0.01,
        _ => 0.005,
    };

    /// <summary>What a number could be by its length and its letters, whether or not its check digits are right.</summary>
    /// <param name="text">Capital letters and digits, without separators.</param>
    public static NationalSystems ShapeOf(ReadOnlySpan<byte> text)
    {
        var digits = 0;
        foreach (var c in text)
            if (c <= (byte)'9') digits++;
        if (digits == text.Length)
            return text.Length switch
            {
                9 => NationalSystems.Bsn | NationalSystems.Sin,
                10 => NationalSystems.Personnummer | NationalSystems.Cpr | NationalSystems.Svnr | NationalSystems.Medicare
                    | NationalSystems.Kennitala | NationalSystems.Henkilotunnus,
                11 => NationalSystems.Fodselsnummer | NationalSystems.Rijksregister | NationalSystems.SteuerId | NationalSystems.Medicare
                    | NationalSystems.Pesel,
                12 => NationalSystems.Personnummer,
                13 => NationalSystems.Ahv,
                15 => NationalSystems.Nir,
                16 => NationalSystems.Ihi,
                _ => NationalSystems.None,
            };
        return (text.Length, text.Length - digits) switch
        {
            (7, 3) => NationalSystems.Nhi,
            (8, 1) => NationalSystems.Ppsn,
            (9, 1) => NationalSystems.Dni,
            (9, 2) => NationalSystems.Dni | NationalSystems.Ppsn,
            (9, 3) => NationalSystems.Nino,
            (10, 1) => NationalSystems.Kvnr | NationalSystems.Henkilotunnus,
            (11, 1 or 2) => NationalSystems.Henkilotunnus,
            (11, _) => NationalSystems.Mbi,
            (15, 1) => NationalSystems.Nir,
            (16, >= 9) => NationalSystems.CodiceFiscale,
            _ => NationalSystems.None,
        };
    }

    /// <summary>What of <see cref="ShapeOf"/> passes.</summary>
    public static NationalSystems PassedBy(ReadOnlySpan<byte> text)
    {
        var (possible, passed) = ((uint)ShapeOf(text), NationalSystems.None);
        for (; possible != 0; possible &= possible - 1)
        {
            var one = (NationalSystems)(possible & (~possible + 1));
            if (Passes(text, one)) passed |= one;
        }

        return passed;
    }

    private static bool Passes(ReadOnlySpan<byte> text, NationalSystems one) => one switch
    {
        NationalSystems.Nir => IsNir(text),
        NationalSystems.CodiceFiscale => IsCodiceFiscale(text),
        NationalSystems.Henkilotunnus => IsHenkilotunnus(text),
        NationalSystems.Personnummer => IsPersonnummer(text),
        // CPR office, "Personnummeret i CPR-systemet": weights 4 3 2 7 6 5 4 3 2 1, modulus 11 (numbers since 2007 may lack it).
        NationalSystems.Cpr => IsDayFirst(text) && Sum(text, [4, 3, 2, 7, 6, 5, 4, 3, 2, 1]) % 11 == 0,
        NationalSystems.Fodselsnummer => IsFodselsnummer(text),
        NationalSystems.Rijksregister => IsRijksregister(text),
        // Dutch government, "elfproef" of the BSN: weights 9 to 2 and -1, modulus 11.
        NationalSystems.Bsn => Sum(text, [9, 8, 7, 6, 5, 4, 3, 2, 10]) % 11 == 0 && text.ContainsAnyExcept((byte)'0'),
        NationalSystems.Kvnr => IsKvnr(text),
        NationalSystems.SteuerId => IsSteuerId(text),
        // Austrian social insurance: running number and check digit, then DDMMYY; weights 3 7 9 - 5 8 4 2 1 6, modulus 11.
        NationalSystems.Svnr =>
            text[0] != (byte)'0' && IsDayFirst(text[4..]) && Sum(text, [3, 7, 9, 0, 5, 8, 4, 2, 1, 6]) % 11 == D(text[3]),
        // Swiss ZAS: EAN-13 that begins with the country 756.
        NationalSystems.Ahv => text.StartsWith("756"u8) && Sum(text, [1, 3, 1, 3, 1, 3, 1, 3, 1, 3, 1, 3, 1]) % 10 == 0,
        NationalSystems.Dni => IsDni(text),
        NationalSystems.Ppsn => IsPpsn(text),
        NationalSystems.Nino => IsNino(text),
        NationalSystems.Mbi => IsMbi(text),
        // Services Australia: first digit 2 to 6; weights 1 3 7 9 1 3 7 9, modulus 10 is the ninth digit; then the issue.
        NationalSystems.Medicare => text[0] is >= (byte)'2' and <= (byte)'6' && text[9] != (byte)'0'
            && Sum(text[..8], [1, 3, 7, 9, 1, 3, 7, 9]) % 10 == D(text[8]),
        // Australian HI Service: 800360 and a Luhn digit (ISO/IEC 7812-1).
        NationalSystems.Ihi => text.StartsWith("800360"u8) && IsLuhn(text),
        // Service Canada: Luhn over nine digits.
        NationalSystems.Sin => IsLuhn(text),
        NationalSystems.Nhi => IsNhi(text),
        NationalSystems.Pesel => IsPesel(text),
        // Registers Iceland: DDMMYY, then weights 3 2 7 6 5 4 3 2 with the ninth digit, modulus 11; the tenth is the century.
        NationalSystems.Kennitala => text[9] is (byte)'0' or (byte)'8' or (byte)'9' && IsDayFirst(text)
            && Sum(text, [3, 2, 7, 6, 5, 4, 3, 2, 1, 0]) % 11 == 0,
        _ => false,
    };

    // INSEE: sex 1 or 2 (7 and 8 while provisional), year, month, place, order; key = 97 - number modulo 97, 2A as 19 and 2B as 18.
    private static bool IsNir(ReadOnlySpan<byte> text)
    {
        if (text[0] is not ((byte)'1' or (byte)'2' or (byte)'7' or (byte)'8')) return false;
        Span<byte> digits = stackalloc byte[15];
        text.CopyTo(digits);
        if (text[6] is (byte)'A' or (byte)'B' && text[5] == (byte)'2')
            (digits[5], digits[6]) = ((byte)'1', text[6] == (byte)'A' ? (byte)'9' : (byte)'8');
        if (!AreDigits(digits)) return false;
        var month = Two(digits, 3);
        return month is >= 1 and <= 12 or >= 20 && Number(digits[..13]) is var number && 97 - (number % 97) == Two(digits, 13);
    }

    // Agenzia delle Entrate, decree of 23 December 1976: odd places by a table, even ones by value, modulus 26.
    private static bool IsCodiceFiscale(ReadOnlySpan<byte> text)
    {
        ReadOnlySpan<byte> odd = [1, 0, 5, 7, 9, 13, 15, 17, 19, 21, 2, 4, 18, 20, 11, 3, 6, 8, 12, 14, 16, 10, 22, 25, 24, 23];
        // Where digits stand, letters may replace them (omocodia).
        for (var i = 0; i < 16; i++)
            if (i is < 6 or 8 or 11 or 15 ? text[i] <= (byte)'9' : text[i] > (byte)'9' && !"LMNPQRSTUV"u8.Contains(text[i])) return false;
        if (!"ABCDEHLMPRST"u8.Contains(text[8])) return false;
        var sum = 0;
        for (var i = 0; i < 15; i++)
        {
            var value = text[i] <= (byte)'9' ? D(text[i]) : text[i] - 'A';
            sum += i % 2 == 0 ? odd[value] : value;
        }

        return 'A' + (sum % 26) == text[15];
    }

    // Finnish Digital and Population Data Services Agency: DDMMYY, a sign of the century, three digits, the remainder by 31 as a sign.
    private static bool IsHenkilotunnus(ReadOnlySpan<byte> text)
    {
        var signed = text.Length == 11;
        if (signed && !"ABCDEFYXWVU"u8.Contains(text[6])) return false;
        Span<byte> digits = stackalloc byte[9];
        text[..6].CopyTo(digits);
        text.Slice(signed ? 7 : 6, 3).CopyTo(digits[6..]);
        return AreDigits(digits) && IsDayFirst(digits) && FinnishCheck[(int)(Number(digits) % 31)] == text[^1];
    }

    // Skatteverket, SKV 704: YYMMDD and four digits, Luhn over the ten; twelve with the century; days from 61 are coordination numbers.
    private static bool IsPersonnummer(ReadOnlySpan<byte> text)
    {
        if (text.Length == 12 && Two(text, 0) is not (18 or 19 or 20)) return false;
        var ten = text[^10..];
        var day = Two(ten, 4);
        return IsMonthDay(Two(ten, 2), day > 60 ? day - 60 : day) && IsLuhn(ten);
    }

    // Skatteetaten: weights 3 7 6 1 8 9 4 5 2 and 5 4 3 2 7 6 5 4 3 2, modulus 11; D-numbers add 40 to the day, test numbers 40 or 80
    // to the month.
    private static bool IsFodselsnummer(ReadOnlySpan<byte> text)
    {
        var (day, month) = (Two(text, 0), Two(text, 2));
        return IsMonthDay(month > 80 ? month - 80 : month > 40 ? month - 40 : month, day > 40 ? day - 40 : day)
            && Sum(text, [3, 7, 6, 1, 8, 9, 4, 5, 2, 1, 0]) % 11 == 0 && Sum(text, [5, 4, 3, 2, 7, 6, 5, 4, 3, 2, 1]) % 11 == 0;
    }

    // Belgian national register: YYMMDD, three digits, 97 - the nine digits modulo 97, with a 2 before them for births from 2000.
    private static bool IsRijksregister(ReadOnlySpan<byte> text)
    {
        var month = Two(text, 2);
        if (!IsMonthDay(month > 40 ? month - 40 : month > 20 ? month - 20 : month, Two(text, 4))) return false;
        var (number, check) = (Number(text[..9]), Two(text, 9));
        return 97 - (number % 97) == check || 97 - ((2_000_000_000L + number) % 97) == check;
    }

    // § 290 SGB V and the GKV's description: letter as two digits, weights 1 2 alternating, sums of digits, modulus 10.
    private static bool IsKvnr(ReadOnlySpan<byte> text)
    {
        if (text[0] <= (byte)'9' || !AreDigits(text[1..])) return false;
        var letter = text[0] - 'A' + 1;
        var sum = (letter / 10) + DigitSum(letter % 10 * 2);
        for (var i = 1; i < 9; i++) sum += DigitSum(D(text[i]) * (i % 2 == 1 ? 1 : 2));
        return sum % 10 == D(text[9]);
    }

    // Bundeszentralamt für Steuern: ISO/IEC 7064, MOD 11,10; first digit not 0; of the first ten digits one stands twice or three times.
    private static bool IsSteuerId(ReadOnlySpan<byte> text)
    {
        if (text[0] == (byte)'0') return false;
        var (product, seen, repeats) = (10, 0, 0);
        for (var i = 0; i < 10; i++)
        {
            var digit = D(text[i]);
            if ((seen & (1 << digit)) != 0) repeats++;
            seen |= 1 << digit;
            var sum = (digit + product) % 10;
            product = (sum == 0 ? 10 : sum) * 2 % 11;
        }

        return repeats is 1 or 2 && (11 - product) % 10 == D(text[10]);
    }

    // Spanish Ministry of the Interior: the remainder by 23 as a letter; NIE begin with X, Y, Z for 0, 1, 2.
    private static bool IsDni(ReadOnlySpan<byte> text)
    {
        Span<byte> digits = stackalloc byte[8];
        text[..8].CopyTo(digits);
        if (text[0] is >= (byte)'X' and <= (byte)'Z') digits[0] = (byte)(text[0] - 'X' + '0');
        return AreDigits(digits) && SpanishCheck[(int)(Number(digits) % 23)] == text[8];
    }

    // Irish Department of Social Protection: weights 8 to 2, a second letter with weight 9, the remainder by 23 as a letter.
    private static bool IsPpsn(ReadOnlySpan<byte> text)
    {
        if (!AreDigits(text[..7])) return false;
        var sum = Sum(text[..7], [8, 7, 6, 5, 4, 3, 2]);
        if (text.Length == 9) sum += text[8] is >= (byte)'A' and <= (byte)'I' ? 9 * (text[8] - 'A' + 1) : text[8] == (byte)'W' ? 0 : 1000;
        return sum < 1000 && IrishCheck[sum % 23] == text[7];
    }

    // HMRC, NIM39110: two letters but for D F I Q U V (second: also O) and some pairs, six digits, A to D.
    private static bool IsNino(ReadOnlySpan<byte> text)
    {
        if (!AreDigits(text.Slice(2, 6)) || text[8] is < (byte)'A' or > (byte)'D') return false;
        return !"DFIQUV0123456789"u8.Contains(text[0]) && !"DFIQUVO0123456789"u8.Contains(text[1])
            && (text[0], text[1]) is not (((byte)'B', (byte)'G') or ((byte)'G', (byte)'B') or ((byte)'K', (byte)'N')
                or ((byte)'N', (byte)'K') or ((byte)'N', (byte)'T') or ((byte)'T', (byte)'N') or ((byte)'Z', (byte)'Z'));
    }

    // Centers for Medicare & Medicaid Services, "Understanding the MBI format": C A AN N A AN N A A N N without S L O I B Z.
    private static bool IsMbi(ReadOnlySpan<byte> text)
    {
        const string form = "CAXNAXNAANN";
        for (var i = 0; i < form.Length; i++)
        {
            var digit = text[i] <= (byte)'9';
            if (form[i] switch { 'C' => !digit || text[i] == (byte)'0', 'N' => !digit, 'A' => digit, _ => false }) return false;
            if (!digit && "SLOIBZ"u8.Contains(text[i])) return false;
        }

        return true;
    }

    // New Zealand, HISO 10046: three letters without I and O, three digits, weights 7 to 2, 11 - the remainder by 11, 10 as 0.
    private static bool IsNhi(ReadOnlySpan<byte> text)
    {
        if (!AreDigits(text[3..])) return false;
        var sum = 0;
        for (var i = 0; i < 6; i++)
        {
            var value = i < 3 ? NewZealandLetters.IndexOf((char)text[i], StringComparison.Ordinal) + 1 : D(text[i]);
            if (i < 3 && value == 0) return false;
            sum += value * (7 - i);
        }

        return sum % 11 != 0 && (11 - (sum % 11)) % 10 == D(text[6]);
    }

    // Poland, gov.pl on PESEL: YYMMDD with the century in the month, weights 1 3 7 9, modulus 10.
    private static bool IsPesel(ReadOnlySpan<byte> text) =>
        IsMonthDay(Two(text, 2) % 20, Two(text, 4)) && Sum(text, [1, 3, 7, 9, 1, 3, 7, 9, 1, 3, 1]) % 10 == 0;
}
