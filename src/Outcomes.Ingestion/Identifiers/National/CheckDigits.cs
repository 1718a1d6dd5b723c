namespace Outcomes.Ingestion.Identifiers.National;

/// <summary>Arithmetic that check digits of several countries share, on digits as bytes.</summary>
internal static class CheckDigits
{
    /// <summary>ISO/IEC 7812-1, annex B: every second digit doubled, from the last but one; zeros alone are no number.</summary>
    public static bool IsLuhn(ReadOnlySpan<byte> digits)
    {
        var sum = 0;
        for (var i = 0; i < digits.Length; i++) sum += DigitSum(D(digits[^(i + 1)]) * (1 + (i % 2)));
        return sum % 10 == 0 && digits.ContainsAnyExcept((byte)'0');
    }

    /// <summary>True where DDMM could be a day of some year.</summary>
    public static bool IsDayFirst(ReadOnlySpan<byte> text) => IsMonthDay(Two(text, 2), Two(text, 0));

    public static bool IsMonthDay(int month, int day) => month is >= 1 and <= 12 && day >= 1 && day <= DateTime.DaysInMonth(2000, month);

    public static bool AreDigits(ReadOnlySpan<byte> text) => !text.ContainsAnyExceptInRange((byte)'0', (byte)'9');

    /// <summary>Digits times weights; digits beyond the weights do not count.</summary>
    public static int Sum(ReadOnlySpan<byte> digits, ReadOnlySpan<byte> weights)
    {
        var sum = 0;
        for (var i = 0; i < weights.Length; i++) sum += D(digits[i]) * weights[i];
        return sum;
    }

    public static long Number(ReadOnlySpan<byte> digits)
    {
        var number = 0L;
        foreach (var digit in digits) number = (number * 10) + D(digit);
        return number;
    }

    /// <summary>The two digits from a place on as a number.</summary>
    public static int Two(ReadOnlySpan<byte> text, int at) => (D(text[at]) * 10) + D(text[at + 1]);

    /// <summary>The value of a digit.</summary>
    public static int D(byte digit) => digit - '0';

    /// <summary>The sum of the digits of a number below 100.</summary>
    public static int DigitSum(int number) => (number / 10) + (number % 10);
}
