using System.Globalization;
using System.Runtime.CompilerServices;

namespace Outcomes.Ingestion.Parsing;

/// <summary>
/// A declared way of writing dates or times: <c>yyyy</c>, <c>MM</c>, <c>dd</c>, <c>M</c>, <c>d</c> (one or two digits), <c>MMM</c>
/// (English month name, three letters), <c>HH</c>, <c>H</c>, <c>mm</c>, <c>ss</c>; anything else stands for itself. Two-digit years do not
/// exist: a century is never guessed.
/// </summary>
public sealed class DatePattern
{
    private static readonly string[] Months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    private static readonly string[] Known = ["yyyy", "MMM", "MM", "M", "dd", "d", "HH", "H", "mm", "ss"];

    private readonly List<string> _parts = [];
    private readonly bool _iso;

    private DatePattern(string pattern)
    {
        for (var i = 0; i < pattern.Length;)
        {
            var part = Known.FirstOrDefault(known => pattern.AsSpan(i).StartsWith(known)) ?? pattern[i].ToString();
            _parts.Add(part);
            i += part.Length;
        }

        _iso = pattern == "yyyy-MM-dd";
    }

    /// <summary>The pattern for dates, or null when it lacks year, month or day, or has a letter of no meaning.</summary>
    public static DatePattern? ForDates(string pattern)
    {
        var parsed = new DatePattern(pattern);
        return parsed.Has("yyyy") && parsed.Has("MM", "M", "MMM") && parsed.Has("dd", "d") && parsed.IsUnderstood ? parsed : null;
    }

    /// <summary>The pattern for times of day, or null when it lacks hours or minutes.</summary>
    public static DatePattern? ForTimes(string pattern)
    {
        var parsed = new DatePattern(pattern);
        return parsed.Has("HH", "H") && parsed.Has("mm") && parsed.IsUnderstood ? parsed : null;
    }

    private bool IsUnderstood => _parts.All(part => Known.Contains(part) || !char.IsAsciiLetter(part[0]) || part == "T");

    private bool Has(params string[] any) => _parts.Count(any.Contains) == 1;

    /// <summary>
    /// The date as a day number (<see cref="DateOnly.DayNumber"/>); false when the cell is not written so or no such day exists.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool TryDate(ReadOnlySpan<byte> cell, out int day)
    {
        day = 0;
        int year, month, dayOfMonth;
        if (_iso)
        {
            if (cell.Length != 10 || cell[4] != (byte)'-' || cell[7] != (byte)'-')
                return false;
            (year, month, dayOfMonth) = (Strict.Digits(cell, 0, 4), Strict.Digits(cell, 5, 2), Strict.Digits(cell, 8, 2));
        }
        else if (!Read(cell, out year, out month, out dayOfMonth, out _, out _))
        {
            return false;
        }

        if (year is < 1 or > 9999 || month is < 1 or > 12 || dayOfMonth < 1 || dayOfMonth > DateTime.DaysInMonth(year, month))
            return false;
        day = new DateOnly(year, month, dayOfMonth).DayNumber;
        return true;
    }

    /// <summary>Whole minutes since midnight, 0 to 1439.</summary>
    public bool TryMinutes(ReadOnlySpan<byte> cell, out int minutes)
    {
        minutes = 0;
        if (!Read(cell, out _, out _, out _, out var hour, out var minute) || hour is < 0 or > 23 || minute is < 0 or > 59)
            return false;
        minutes = (hour * 60) + minute;
        return true;
    }

    /// <summary>A date and time written so: what <see cref="TryDate"/> and <see cref="TryMinutes"/> read back.</summary>
    public string Format(DateTime value) => string.Concat(_parts.Select(part => part switch
    {
        "yyyy" => Padded(value.Year, 4),
        "MMM" => Months[value.Month - 1],
        "MM" => Padded(value.Month, 2),
        "M" => Padded(value.Month, 1),
        "dd" => Padded(value.Day, 2),
        "d" => Padded(value.Day, 1),
        "HH" => Padded(value.Hour, 2),
        "H" => Padded(value.Hour, 1),
        "mm" => Padded(value.Minute, 2),
        "ss" => Padded(value.Second, 2),
        _ => part,
    }));

    private static string Padded(int value, int width) => value.ToString(CultureInfo.InvariantCulture).PadLeft(width, '0');

    private bool Read(ReadOnlySpan<byte> cell, out int year, out int month, out int day, out int hour, out int minute)
    {
        (year, month, day, hour, minute) = (-1, -1, -1, -1, -1);
        var at = 0;
        foreach (var part in _parts)
        {
            var width = part switch { "yyyy" => 4, "MM" or "dd" or "HH" or "mm" or "ss" => 2, "M" or "d" or "H" => Wide(cell, at), _ => 0 };
            if (part == "MMM")
            {
                month = MonthName(cell, at);
                if (month < 1) return false;
                at += 3;
                continue;
            }

            if (width == 0)
            {
                if (at >= cell.Length || cell[at] != part[0]) return false;
                at++;
                continue;
            }

            var value = Strict.Digits(cell, at, width);
            if (value < 0) return false;
            at += width;
            switch (part)
            {
                case "yyyy": year = value; break;
                case "MM" or "M": month = value; break;
                case "dd" or "d": day = value; break;
                case "HH" or "H": if (value > 23) return false; hour = value; break;
                case "mm": if (value > 59) return false; minute = value; break;
                default: if (value > 59) return false; break;
            }
        }

        return at == cell.Length;
    }

    private static int Wide(ReadOnlySpan<byte> cell, int at) => at + 1 < cell.Length && char.IsAsciiDigit((char)cell[at + 1]) ? 2 : 1;

    private static int MonthName(ReadOnlySpan<byte> cell, int at)
    {
        if (at + 3 > cell.Length) return -1;
        for (var i = 0; i < Months.Length; i++)
            if ((cell[at] | 0x20) == Months[i][0] && (cell[at + 1] | 0x20) == Months[i][1] && (cell[at + 2] | 0x20) == Months[i][2])
                return i + 1;
        return -1;
    }
}
