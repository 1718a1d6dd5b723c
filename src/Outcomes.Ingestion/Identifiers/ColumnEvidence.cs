using Outcomes.Ingestion.Store;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>What is asked of a column as a whole.</summary>
[Flags]
public enum WholeColumn : byte
{
    None = 0,

    /// <summary>Do its values repeat, as words and codes do?</summary>
    Unique = 1,

    /// <summary>Is it a list of names?</summary>
    Names = 2,

    /// <summary>Are its dates those of births?</summary>
    Births = 4,
}

/// <summary>A cell as evidence of its column; nothing of its text remains but hashes.</summary>
/// <param name="Hash">Of the whole cell.</param>
/// <param name="Length">Its length in bytes, at most 255.</param>
/// <param name="Form">What it looks like.</param>
/// <param name="Year">The year of a date.</param>
/// <param name="First">Hash of a name's first word.</param>
/// <param name="Last">Hash of its last word.</param>
public readonly record struct ColumnValue(ulong Hash, byte Length, CellForm Form, short Year, int First, int Last)
{
    private const int LongestForm = 80;

    /// <summary>Reads a cell.</summary>
    public static ColumnValue Of(ReadOnlySpan<byte> cell)
    {
        var (hash, length) = (KeyHash.Of(cell), (byte)Math.Min(cell.Length, byte.MaxValue));
        if (cell.Length is < 2 or > LongestForm) return new ColumnValue(hash, length, CellForm.Other, 0, 0, 0);
        Span<char> text = stackalloc char[LongestForm];
        // A name starts with a letter, a date with a digit or a month: most codes and numbers are neither, and cost one look.
        var digit = cell[0] - (uint)'0' <= 9;
        if (!digit && ((uint)(cell[0] - 'a') <= 25 || cell[0] < (byte)'A')) return new ColumnValue(hash, length, CellForm.Other, 0, 0, 0);
        if (digit && cell.Length < 6) return new ColumnValue(hash, length, CellForm.Other, 0, 0, 0);
        text = text[..System.Text.Encoding.UTF8.GetChars(cell, text)];
        text.Replace('\u00A0', ' ');
        if (BirthDates.YearOf(text) is var year and > 0) return new ColumnValue(hash, length, CellForm.Date, (short)year, 0, 0);
        if (digit) return new ColumnValue(hash, length, CellForm.Other, 0, 0, 0);
        var form = Names.Of(text, out var first, out var last);
        return new ColumnValue(hash, length, form, 0, first, last);
    }
}

/// <summary>
/// Evidence on whole columns: values that hardly repeat, lists of names, dates of birth. What is asked of the first <see cref="Most"/>
/// values in file order, so that neither the size of blocks nor the number of workers can change the answer.
/// </summary>
public sealed class ColumnEvidence(int columns)
{
    /// <summary>More values are not looked at.</summary>
    public const int Most = 50_000;

    private const int FirstLook = 1000;
    private const int FirstYear = 1880;
    private const int LastYear = 2100;

    private readonly OneColumn[] _columns = [.. Enumerable.Range(0, columns).Select(_ => new OneColumn())];
    private readonly int[] _events = new int[LastYear - FirstYear];

    // Written under the turn, read by workers without it: a late answer costs a little work and changes nothing.
    private readonly bool[] _settled = new bool[columns];

    /// <summary>False once more values of the column would not be looked at.</summary>
    public bool MayBe(int column) => !Volatile.Read(ref _settled[column]);

    /// <summary>Adds the values of the next block.</summary>
    public void Add(int column, IReadOnlyList<ColumnValue> values)
    {
        var one = _columns[column];
        for (var i = 0; i < values.Count && !_settled[column]; i++)
        {
            one.Add(values[i]);
            // At two fixed places: words that repeat are let go early, and nothing is followed for ever.
            if (one.Values == Most || (one.Values == FirstLook && !one.IsOpen)) Volatile.Write(ref _settled[column], true);
        }
    }

    /// <summary>Adds the days of events of the next block, as day numbers; missing ones are negative.</summary>
    public void AddEvents(ReadOnlySpan<int> days)
    {
        foreach (var day in days)
            if (day > 0 && day <= DateOnly.MaxValue.DayNumber
                && DateOnly.FromDayNumber(day).Year is >= FirstYear and < LastYear and var year)
                _events[year - FirstYear]++;
    }

    /// <summary>
    /// True when at least nine in ten values are of six bytes or more (shorter ones single nobody out), at least 20 are, and at least 95 in
    /// 100 of those differ.
    /// </summary>
    public bool IsUnique(int column) => _columns[column].IsUnique;

    /// <summary>
    /// True for a list of names: ten or more different full names; either six in ten values are one and at least half of those differ
    /// (patients), or eight in ten are one and they have six different first and six different last words (staff, who recur).
    /// </summary>
    public bool HoldsNames(int column) => _columns[column].HoldsNames;

    /// <summary>
    /// True for what may be one: half of the values are full names, five of them different; or six in ten are single words that nobody
    /// would list, 20 different ones.
    /// </summary>
    public bool MayHoldNames(int column) => _columns[column].MayHoldNames;

    /// <summary>True for dates of birth, ten or more and eight in ten of all values: see <see cref="BirthYears"/>.</summary>
    public bool HoldsBirths(int column) => _columns[column] is { HasDates: true } one && BirthYears.Are(one.Years, _events);

    /// <summary>True for dates that may be those of births, such as children's: see <see cref="BirthYears"/>.</summary>
    public bool MayHoldBirths(int column) => _columns[column] is { HasDates: true } one && BirthYears.MayBe(one.Years, _events);

    private sealed class OneColumn
    {
        private readonly HashSet<ulong> _distinct = [];
        private readonly HashSet<ulong> _names = [];
        private readonly HashSet<ulong> _single = [];
        private readonly HashSet<int> _first = [];
        private readonly HashSet<int> _last = [];
        private int _long;
        private int _fullNames;
        private int _singleNames;
        private int _dates;

        public int Values { get; private set; }

        public int[] Years { get; private set; } = [];

        public bool IsUnique => _long >= 20 && _long * 10L >= Values * 9L && _distinct.Count * 100L >= _long * 95L;

        public bool HoldsNames => _names.Count >= 10
            && ((_fullNames * 10L >= Values * 6L && _names.Count * 2L >= _fullNames)
                || (_fullNames * 10L >= Values * 8L && _first.Count >= 6 && _last.Count >= 6));

        public bool MayHoldNames => (_names.Count >= 5 && _fullNames * 2L >= Values)
            || (_single.Count >= 20 && _singleNames * 10L >= Values * 6L && _single.Count * 10L >= _singleNames * 4L);

        public bool HasDates => _dates >= 10 && _dates * 10L >= Values * 8L;

        public bool IsOpen => IsUnique || HasDates || _fullNames * 2L >= Values || (_fullNames + _singleNames) * 10L >= Values * 6L;

        public void Add(ColumnValue value)
        {
            Values++;
            if (value.Length >= 6)
            {
                _long++;
                _distinct.Add(value.Hash);
            }

            switch (value.Form)
            {
                case CellForm.FullName:
                    _fullNames++;
                    if (_names.Add(value.Hash))
                    {
                        _first.Add(value.First);
                        _last.Add(value.Last);
                    }

                    break;
                case CellForm.OneName:
                    _singleNames++;
                    _single.Add(value.Hash);
                    break;
                case CellForm.Date:
                    _dates++;
                    if (Years.Length == 0) Years = new int[LastYear - FirstYear];
                    if (value.Year is >= FirstYear and < LastYear) Years[value.Year - FirstYear]++;
                    break;
            }
        }
    }
}
