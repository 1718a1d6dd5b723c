using System.Diagnostics.CodeAnalysis;
using System.Globalization;

namespace Outcomes.Records;

/// <summary>A calendar month, written as ISO 8601 does: <c>2026-03</c>. The unit of every series.</summary>
public readonly record struct Month : IComparable<Month>
{
    private readonly int _index;

    private Month(int index) => _index = index;

    /// <summary>The month <paramref name="number"/> (1 to 12) of <paramref name="year"/> (1 to 9999).</summary>
    public Month(int year, int number)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(year, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(year, 9999);
        ArgumentOutOfRangeException.ThrowIfLessThan(number, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(number, 12);
        _index = (year * 12) + number - 1;
    }

    public int Year => _index / 12;

    public int Number => (_index % 12) + 1;

    public DateOnly FirstDay => new(Year, Number, 1);

    public DateOnly LastDay => new(Year, Number, DateTime.DaysInMonth(Year, Number));

    public static Month Of(DateOnly date) => new(date.Year, date.Month);

    public Month AddMonths(int months) => new(_index + months);

    /// <summary>Months from <paramref name="other"/> to this one; negative when this one is earlier.</summary>
    public int MonthsSince(Month other) => _index - other._index;

    /// <summary>Every month from this one to <paramref name="last"/>, both included, in order; empty when last is earlier.</summary>
    public IEnumerable<Month> To(Month last)
    {
        for (var month = this; month <= last; month = month.AddMonths(1))
            yield return month;
    }

    /// <summary>Reads exactly <c>yyyy-MM</c>; anything else is no month.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out Month month)
    {
        month = default;
        if (text is not { Length: 7 } || text[4] != '-'
            || !int.TryParse(text.AsSpan(0, 4), NumberStyles.None, CultureInfo.InvariantCulture, out var year)
            || !int.TryParse(text.AsSpan(5, 2), NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            || year < 1 || number is < 1 or > 12)
            return false;
        month = new Month(year, number);
        return true;
    }

    public int CompareTo(Month other) => _index.CompareTo(other._index);

    public static bool operator <(Month left, Month right) => left._index < right._index;

    public static bool operator >(Month left, Month right) => left._index > right._index;

    public static bool operator <=(Month left, Month right) => left._index <= right._index;

    public static bool operator >=(Month left, Month right) => left._index >= right._index;

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Year:D4}-{Number:D2}");
}
