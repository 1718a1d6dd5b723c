using System.Collections.Frozen;
using System.Globalization;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Parsing;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>
/// Reads an exact time, age or date as the band it falls in. The bands are the field's allowed values: hours such as <c>08-18</c> (end
/// not included, the last may run over midnight), ages such as <c>16-29</c> (both ends included) or <c>90+</c>.
/// </summary>
public sealed class Bands
{
    private const int MinutesOfDay = 24 * 60;
    private const int HighestAge = 120;

    private readonly DeriveFrom _from;
    private readonly DatePattern? _pattern;
    private readonly int[] _band = [];
    private readonly FrozenSet<int> _holidays = FrozenSet<int>.Empty;
    private readonly (int Weekday, int Weekend) _day;

    private Bands(DeriveFrom from, DatePattern? pattern, int[] band) => (_from, _pattern, _band) = (from, pattern, band);

    private Bands(DatePattern pattern, FrozenSet<int> holidays, (int Weekday, int Weekend) day) =>
        (_from, _pattern, _holidays, _day) = (DeriveFrom.Date, pattern, holidays, day);

    /// <exception cref="Failure">The field has no such bands, or the pattern is none (exit 3).</exception>
    internal static Bands Of(Field field, Derivation derive, ColumnMapping column, string file)
    {
        Failure Wrong(string message) => Failure.Definition(file, column.Line, message);
        switch (derive.From)
        {
            case DeriveFrom.Time:
                var pattern = DatePattern.ForTimes(column.Pattern ?? "HH:mm")
                    ?? throw Wrong($"`{column.Pattern}` is no time pattern; use HH and mm, such as HH:mm");
                return new Bands(derive.From, pattern, Table(field, MinutesOfDay, Hours)
                    ?? throw Wrong($"the allowed values of `{field.Name}` are no hours such as 08-18 that cover the day once"));
            case DeriveFrom.Age:
                return new Bands(derive.From, null, Table(field, HighestAge + 1, Ages)
                    ?? throw Wrong($"the allowed values of `{field.Name}` are no ages such as 16-29 or 90+ that cover every age once"));
            default:
                var date = DatePattern.ForDates(column.Pattern ?? "yyyy-MM-dd")
                    ?? throw Wrong($"`{column.Pattern}` is no date pattern; use yyyy, MM (or M, MMM) and dd (or d), such as dd/MM/yyyy");
                var day = (field.Allowed.IndexOf("weekday"), field.Allowed.IndexOf("weekend_holiday"));
                return day is ( >= 0, >= 0)
                    ? new Bands(date, derive.Holidays.Select(holiday => holiday.DayNumber).ToFrozenSet(), day)
                    : throw Wrong($"`{field.Name}` does not allow weekday and weekend_holiday, so it cannot be derived from a date");
        }
    }

    /// <summary>The place among the allowed values; the rule says what is wrong with the cell, if anything.</summary>
    public CellRule Read(ReadOnlySpan<byte> cell, out int band)
    {
        band = -1;
        switch (_from)
        {
            case DeriveFrom.Time:
                if (!_pattern!.TryMinutes(cell, out var minutes)) return CellRule.NotTime;
                band = _band[minutes];
                return CellRule.None;
            case DeriveFrom.Age:
                if (!Strict.TryInteger(cell, out var age)) return CellRule.NotInteger;
                if (age is < 0 or > HighestAge) return CellRule.OutOfRange;
                band = _band[age];
                return CellRule.None;
            default:
                if (!_pattern!.TryDate(cell, out var day)) return CellRule.NotDate;
                band = DateOnly.FromDayNumber(day).DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday || _holidays.Contains(day)
                    ? _day.Weekend
                    : _day.Weekday;
                return CellRule.None;
        }
    }

    // One place for each exact value; null where a value has none or two. Values that are no band (adult, child) are passed over.
    private static int[]? Table(Field field, int length, Func<string, (int From, int To)?> read)
    {
        var table = new int[length];
        Array.Fill(table, -1);
        for (var i = 0; i < field.Allowed.Length; i++)
        {
            if (read(field.Allowed[i]) is not var (from, to)) continue;
            for (var value = from; value <= to; value++)
            {
                if (table[value % length] >= 0) return null;
                table[value % length] = i;
            }
        }

        return table.Contains(-1) ? null : table;
    }

    private static (int From, int To)? Hours(string text)
    {
        if (Ends(text) is not var (from, to) || from > 24 || to > 24) return null;
        return (from * 60, ((to > from ? to : to + 24) * 60) - 1);
    }

    private static (int From, int To)? Ages(string text) =>
        text.EndsWith('+') ? Ends(text[..^1] + "-" + HighestAge.ToString(CultureInfo.InvariantCulture)) : Ends(text);

    private static (int From, int To)? Ends(string text) =>
        text.Split('-') is [var left, var right] && int.TryParse(left, NumberStyles.None, CultureInfo.InvariantCulture, out var from)
        && int.TryParse(right, NumberStyles.None, CultureInfo.InvariantCulture, out var to) && to <= HighestAge ? (from, to) : null;
}
