using Outcomes.Ingestion.Identifiers.National;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Evidence on whole columns: values that hardly repeat, lists of names, dates of birth, national numbers, addresses. What is asked of the
/// first <see cref="Most"/> values in file order, so that neither the size of blocks nor the number of workers can change the answer.
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
    private readonly int[] _eventMonths = new int[(LastYear - FirstYear) * 12];

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
            if (day > 0 && day <= DateOnly.MaxValue.DayNumber && DateOnly.FromDayNumber(day) is { Year: >= FirstYear and < LastYear } date)
            {
                _events[date.Year - FirstYear]++;
                _eventMonths[((date.Year - FirstYear) * 12) + date.Month - 1]++;
            }
    }

    /// <summary>
    /// True when at least nine in ten values are of six bytes or more (shorter ones single nobody out), at least 20 are, and at least 95 in
    /// 100 of those differ.
    /// </summary>
    public bool IsUnique(int column) => _columns[column].IsUnique;

    /// <summary>The same, or twelve values of six bytes or more that all differ: a warning where nothing is read.</summary>
    public bool MayBeUnique(int column) => _columns[column].MayBeUnique;

    /// <summary>
    /// True for a list of names: ten or more different full names; either six in ten values are one and at least half of those differ
    /// (patients), or eight in ten are one and they have six different first and six different last words (staff, who recur).
    /// </summary>
    public bool HoldsNames(int column) => _columns[column].HoldsNames;

    /// <summary>
    /// True for what may be one: half of the values are full names, five of them different; six in ten are names in small letters, five
    /// of them different; or six in ten are single words that nobody would list: four different ones with capitals among ten values or
    /// more, since staff recur; or 12, or eight that repeat little, in small letters.
    /// </summary>
    public bool MayHoldNames(int column) => _columns[column].MayHoldNames;

    /// <summary>
    /// True for dates of birth, ten or more and eight in ten of all values: see <see cref="BirthYears"/>. Or for 15 different serial
    /// numbers, 95 in 100 of all values, whose days spread so and that are no running numbers.
    /// </summary>
    public bool HoldsBirths(int column) => _columns[column] is var one
        && ((one.HasDates && BirthYears.Are(one.Years, _events)) || (one.HasSerials && BirthYears.Are(one.SerialYears, _events)));

    /// <summary>
    /// True for dates or years that may be those of births, such as children's, and for dates that lie months before the events, as those
    /// of infants do: see <see cref="BirthYears"/>.
    /// </summary>
    public bool MayHoldBirths(int column) => _columns[column] is var one
        && ((one.HasDates && BirthYears.MayBe(one.Years, _events)) || (one.HasSerials && BirthYears.MayBe(one.SerialYears, _events))
            || (one.HasYears && BirthYears.MayBe(one.Years, _events)) || (one.HasDates && BirthYears.LieBefore(one.Months, _eventMonths)));

    /// <summary>True when more different values pass one country's check digits than chance allows, five at least.</summary>
    public bool HoldsNationalNumbers(int column) => _columns[column].HoldsNationalNumbers;

    /// <summary>True for eight different groups of letters, eight in ten of all values, that begin with five different letters.</summary>
    public bool MayHoldInitials(int column) => _columns[column].MayHoldInitials;

    /// <summary>True when half of the values hold a street and a house number, ten of them different.</summary>
    public bool HoldsAddresses(int column) => _columns[column].HoldsAddresses;

    /// <summary>True when six in ten values have the form of one, eight of them different, and hardly one repeats.</summary>
    public bool MayHoldAddresses(int column) => _columns[column].MayHoldAddresses;

    /// <summary>True when eight in ten values have the form of a telephone number, eight of them different.</summary>
    public bool MayHoldPhones(int column) => _columns[column].MayHoldPhones;

    /// <summary>True when eight in ten values are seven digits or more, eight of them different, that do not run on.</summary>
    public bool MayHoldNumbers(int column) => _columns[column].MayHoldNumbers;

    /// <summary>True when eight in ten values have the form of a number plate, eight of them different.</summary>
    public bool MayHoldPlates(int column) => _columns[column].MayHoldPlates;

    // One system in 23 would be exceeded by chance as often as the whole is allowed to be.
    private const double ChanceOfOne = ChanceOfNumbers.Chance / NationalNumbers.Count;

    private sealed class OneColumn
    {
        private readonly HashSet<ulong> _distinct = [];
        private readonly HashSet<ulong> _names = [];
        private readonly HashSet<ulong> _lower = [];
        private readonly HashSet<ulong> _single = [];
        private readonly HashSet<ulong> _other = [];
        private readonly HashSet<int> _first = [];
        private readonly HashSet<int> _last = [];
        private readonly int[] _shaped = new int[NationalNumbers.Count];
        private readonly int[] _passed = new int[NationalNumbers.Count];
        private readonly int[] _forms = new int[(int)CellForm.Digits + 1];
        private int _long;
        private (int Least, int Most) _serials = (int.MaxValue, 0);

        public int Values { get; private set; }

        public int[] Years { get; private set; } = [];

        public int[] SerialYears { get; private set; } = [];

        /// <summary>Dates by month; those of years alone have none.</summary>
        public int[] Months { get; private set; } = [];

        public bool IsUnique => _long >= 20 && _long * 10L >= Values * 9L && _distinct.Count * 100L >= _long * 95L;

        public bool MayBeUnique => IsUnique || (_long >= 12 && _long * 10L >= Values * 9L && _distinct.Count == _long);

        // A list of things combines few words anew; a list of people hardly ever does while it is short.
        private bool AreOfPeople => _names.Count >= 30 || (_first.Count + _last.Count) * 4L >= _names.Count * 7L;

        public bool HoldsNames => _names.Count >= 10 && AreOfPeople
            && ((Share(6, CellForm.FullName) && _names.Count * 2L >= Of(CellForm.FullName))
                || (Share(8, CellForm.FullName) && _first.Count >= 6 && _last.Count >= 6));

        public bool MayHoldNames => (_names.Count >= 5 && Share(5, CellForm.FullName))
            || (_lower.Count >= 5 && Share(6, CellForm.LowerName))
            || (Share(6, CellForm.OneName) && _single.Count >= 4 && Values >= 10)
            || (Share(6, CellForm.OneName, CellForm.LowerWord) && _single.Count >= 8
                && (_single.Count >= 12 || _single.Count * 10L >= (Of(CellForm.OneName) + Of(CellForm.LowerWord)) * 4L));

        public bool HasDates => Of(CellForm.Date) >= 10 && Share(8, CellForm.Date);

        public bool HasYears => Of(CellForm.Year) >= 10 && Of(CellForm.Year) * 100L >= Values * 95L;

        // Running numbers lie close together and never repeat; days of birth lie far apart, or do.
        public bool HasSerials => _other.Count >= 15 && Of(CellForm.Serial) * 100L >= Values * 95L
            && !(_other.Count == Of(CellForm.Serial) && _serials.Most - _serials.Least < 3L * _other.Count);

        public bool MayHoldInitials => _other.Count >= 8 && Share(8, CellForm.Initials) && _first.Count >= 5;

        public bool HoldsAddresses => _other.Count >= 10 && Share(5, CellForm.Street);

        public bool MayHoldAddresses => _other.Count >= 8 && Share(6, CellForm.Street, CellForm.Address)
            && _other.Count * 10L >= (Of(CellForm.Street) + Of(CellForm.Address)) * 9L;

        public bool MayHoldPhones => _other.Count >= 8 && Share(8, CellForm.Phone);

        // Keys that run on share their first digits.
        public bool MayHoldNumbers => _other.Count >= 8 && Share(8, CellForm.Digits, CellForm.Phone) && _first.Count >= 3;

        public bool MayHoldPlates => _other.Count >= 8 && Share(8, CellForm.Plate);

        public bool HoldsNationalNumbers
        {
            get
            {
                for (var i = 0; i < NationalNumbers.Count; i++)
                {
                    var system = (NationalSystems)(1 << i);
                    // Without a check digit only a column of nothing else says something.
                    if (system == NationalSystems.Ssn ? _passed[i] >= 10 && _passed[i] * 10L >= _distinct.Count * 8L
                        : ChanceOfNumbers.IsExceeded(_shaped[i], _passed[i], NationalNumbers.ChanceOf(system), ChanceOfOne))
                        return true;
                }

                return false;
            }
        }

        public bool IsOpen => IsUnique || HasDates || HasYears || Of(CellForm.Serial) * 2L >= Values || Share(5, CellForm.FullName)
            || Share(6, CellForm.FullName, CellForm.OneName, CellForm.LowerName, CellForm.LowerWord) || Share(5, CellForm.Initials)
            || Share(5, CellForm.Street, CellForm.Address) || Share(5, CellForm.Plate) || Share(5, CellForm.Phone, CellForm.Digits);

        public void Add(ColumnValue value)
        {
            Values++;
            _forms[(int)value.Form]++;
            if (value.Length >= 6)
            {
                _long++;
                if (_distinct.Add(value.Hash) && value.Shape != NationalSystems.None) Count(value);
            }

            switch (value.Form)
            {
                case CellForm.FullName:
                    if (_names.Add(value.Hash))
                    {
                        _first.Add(value.First);
                        _last.Add(value.Last);
                    }

                    break;
                case CellForm.OneName or CellForm.LowerWord: _single.Add(value.Hash); break;
                case CellForm.LowerName: _lower.Add(value.Hash); break;
                case CellForm.Initials or CellForm.Street or CellForm.Address or CellForm.Plate or CellForm.Phone or CellForm.Digits:
                    if (_other.Add(value.Hash) && value.Form is CellForm.Initials or CellForm.Digits) _first.Add(value.First);
                    break;
                case CellForm.Date:
                    Years = In(Years, value.Year);
                    if (Months.Length == 0) Months = new int[(LastYear - FirstYear) * 12];
                    if (value.Year is >= FirstYear and < LastYear) Months[((value.Year - FirstYear) * 12) + value.First - 1]++;
                    break;
                case CellForm.Year: Years = In(Years, value.Year); break;
                case CellForm.Serial:
                    _other.Add(value.Hash);
                    _serials = (Math.Min(_serials.Least, value.First), Math.Max(_serials.Most, value.First));
                    SerialYears = In(SerialYears, value.Year);
                    break;
            }
        }

        private static int[] In(int[] years, int year)
        {
            if (years.Length == 0) years = new int[LastYear - FirstYear];
            if (year is >= FirstYear and < LastYear) years[year - FirstYear]++;
            return years;
        }

        private void Count(ColumnValue value)
        {
            for (var left = (uint)value.Shape; left != 0; left &= left - 1)
            {
                var i = System.Numerics.BitOperations.TrailingZeroCount(left);
                _shaped[i]++;
                if (((uint)value.Passed & (1u << i)) != 0) _passed[i]++;
            }
        }

        private long Of(CellForm form) => _forms[(int)form];

        // True when so many tenths of the values have one of the forms.
        private bool Share(int tenths, params ReadOnlySpan<CellForm> forms)
        {
            var sum = 0L;
            foreach (var form in forms) sum += Of(form);
            return sum > 0 && sum * 10 >= (long)Values * tenths;
        }
    }
}
