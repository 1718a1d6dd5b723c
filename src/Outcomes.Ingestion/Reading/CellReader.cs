using System.Globalization;
using System.Runtime.CompilerServices;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Parsing;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>Reads the cells of one file column into a column buffer: everything that can be decided once is decided here.</summary>
public sealed class CellReader
{
    private const int MaximumKeyBytes = 200;

    // Words become: an allowed value's place (0 and up), or -1 minus a reason for a missing value.
    private readonly WordTable _words;
    private readonly DatePattern? _pattern;
    private readonly Bands? _bands;
    private readonly (double Multiply, double Divide) _unit = (1, 1);
    private readonly byte _split;
    private readonly double _hardLow = double.NegativeInfinity;
    private readonly double _hardHigh = double.PositiveInfinity;
    private readonly double _plausibleLow = double.NegativeInfinity;
    private readonly double _plausibleHigh = double.PositiveInfinity;
    private readonly bool _wordsFirst;
    private readonly bool _mayBeUnrecordable;
    private readonly bool _decimalComma;

    /// <param name="field">The field.</param>
    /// <param name="column">How the file writes it; null where it is written as in the dictionary.</param>
    /// <param name="mappingFile">The mapping file, for messages.</param>
    /// <param name="decimalComma">True when the file writes decimals with a comma; a point is then no number.</param>
    public CellReader(Field field, Mapping.ColumnMapping? column, string mappingFile, bool decimalComma = false)
    {
        _decimalComma = decimalComma;
        Field = field;
        _mayBeUnrecordable = field.MayBeUnrecordable;
        var line = column?.Line ?? 0;
        _split = (byte)(column?.Split ?? ';');
        _words = Words(field, column, mappingFile);
        _bands = column?.Derive is { } derive ? Bands.Of(field, derive, column, mappingFile) : null;
        _pattern = _bands is null ? PatternOf(field, column, mappingFile) : null;
        if (column?.Unit is { } unit)
            _unit = field.Unit is null
                ? throw Failure.Definition(mappingFile, line, $"field `{field.Name}` has no unit in the dictionary; remove `unit`")
                : Units.Between(unit, field.Unit)
                    ?? throw Failure.Definition(mappingFile, line, $"no conversion from `{unit}` to `{field.Unit}` (field `{field.Name}`)");
        (_hardLow, _hardHigh) = Ends(field.Hard);
        (_plausibleLow, _plausibleHigh) = Ends(field.Plausible);
        // Exports write -9 or 99 for a missing value: such a word comes before any reading as a number or date.
        _wordsFirst = field.Type is FieldType.Integer or FieldType.Number or FieldType.Date or FieldType.Time
            && Missing(field, column).Any(word => word.StartsWith('-') || char.IsAsciiDigit(word[0]));
    }

    public Field Field { get; }

    /// <summary>How the file writes dates or times; null for other fields.</summary>
    public DatePattern? Pattern => _pattern;

    /// <summary>True when the word is a value or a missing word of the field.</summary>
    public bool Knows(ReadOnlySpan<byte> word) => _words.TryFind(word, out _);

    /// <summary>
    /// Reads one trimmed, non-empty cell. The buffer's row is set in every case; the rule says what was wrong, the reason why a
    /// value is missing. A number 0 that may be a reading too low to measure is out of range with the reason unrecordable.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public CellRule Read(ReadOnlySpan<byte> cell, ColumnBuffer buffer, int row, out MissingReason reason)
    {
        reason = MissingReason.Blank;
        var rule = CellRule.None;
        if (_wordsFirst && _words.TryFind(cell, out var first)) return Missing(rule, Reason(first), buffer, row, out reason);
        if (cell[0] == (byte)'#' && ErrorValues.Is(cell) && !_words.TryFind(cell, out _))
            return Missing(CellRule.ErrorValue, MissingReason.Invalid, buffer, row, out reason);

        switch (Field.Type)
        {
            case FieldType.Text:
                if (cell.Length > MaximumKeyBytes && Keys.IsKey(Field)) rule = CellRule.KeyTooLong;
                else if (_words.TryFind(cell, out var word)) reason = Reason(word);
                else { buffer.SetText(row, cell); return CellRule.None; }
                break;
            case FieldType.Code:
            case FieldType.YesNo:
                if (_bands is not null)
                {
                    rule = _bands.Read(cell, out var band);
                    if (rule == CellRule.None) { buffer.Ints[row] = band; return rule; }
                    if (_words.TryFind(cell, out var why) && why < 0) (rule, reason) = (CellRule.None, Reason(why));
                    break;
                }

                if (!_words.TryFind(cell, out var code)) rule = CellRule.NotAllowed;
                else if (code < 0) reason = Reason(code);
                else { buffer.Ints[row] = code; return CellRule.None; }
                break;
            case FieldType.Integer:
                if (_unit is (1, 1) ? Strict.TryInteger(cell, out var whole) : TryConverted(cell, out whole))
                    return Whole(whole, buffer, row, out reason);
                rule = Unread(cell, CellRule.NotInteger, out reason);
                break;
            case FieldType.Number:
                if (TryNumber(cell, out var number)) return Decimal(number, buffer, row, out reason);
                rule = Unread(cell, CellRule.NotNumber, out reason);
                break;
            case FieldType.Date:
                if (_pattern!.TryDate(cell, out var day)) return Whole(day, buffer, row, out reason);
                rule = Unread(cell, CellRule.NotDate, out reason);
                break;
            case FieldType.Time:
                if (_pattern!.TryMinutes(cell, out var minutes)) return Whole(minutes, buffer, row, out reason);
                rule = Unread(cell, CellRule.NotTime, out reason);
                break;
            case FieldType.Set:
                rule = ReadSet(cell, buffer, row, out reason);
                if (rule == CellRule.None && reason == MissingReason.Blank) return CellRule.None;
                break;
            default:
                throw new InvalidOperationException($"Field {Field.Name} has an unknown type.");
        }

        if (rule != CellRule.None) reason = MissingReason.Invalid;
        SetMissing(buffer, row, reason);
        return rule;
    }

    private static CellRule Missing(CellRule rule, MissingReason why, ColumnBuffer buffer, int row, out MissingReason reason)
    {
        reason = why;
        SetMissing(buffer, row, reason);
        return rule;
    }

    private static void SetMissing(ColumnBuffer buffer, int row, MissingReason reason)
    {
        if (reason == MissingReason.Unrecordable) buffer.SetTooLow(row);
        else buffer.SetMissing(row);
    }

    private bool TryNumber(ReadOnlySpan<byte> cell, out double value) =>
        _decimalComma ? Strict.TryCommaNumber(cell, out value) : Strict.TryNumber(cell, out value);

    private CellRule Unread(ReadOnlySpan<byte> cell, CellRule rule, out MissingReason reason)
    {
        reason = MissingReason.Blank;
        if (!_words.TryFind(cell, out var word)) return rule;
        reason = Reason(word);
        return CellRule.None;
    }

    private CellRule Whole(int value, ColumnBuffer buffer, int row, out MissingReason reason)
    {
        var rule = Check(value, out reason);
        if (rule == CellRule.OutOfRange) buffer.SetMissing(row);
        else buffer.Ints[row] = value;
        return rule;
    }

    private CellRule Decimal(double value, ColumnBuffer buffer, int row, out MissingReason reason)
    {
        if (_unit is not (1, 1)) value = Converted(value);
        var rule = Check(value, out reason);
        if (rule == CellRule.OutOfRange) buffer.SetMissing(row);
        else buffer.Doubles[row] = value;
        return rule;
    }

    private CellRule Check(double value, out MissingReason reason)
    {
        reason = MissingReason.Blank;
        if (value < _hardLow || value > _hardHigh)
        {
            // Only the rest of the row can say whether a 0 is a reading too low to measure; until then it is out of range.
            reason = value == 0 && _mayBeUnrecordable ? MissingReason.Unrecordable : MissingReason.Invalid;
            return CellRule.OutOfRange;
        }

        return value < _plausibleLow || value > _plausibleHigh ? CellRule.Implausible : CellRule.None;
    }

    private bool TryConverted(ReadOnlySpan<byte> cell, out int value)
    {
        value = 0;
        if (!TryNumber(cell, out var number)) return false;
        var converted = Math.Round(Converted(number), MidpointRounding.ToEven);
        if (Math.Abs(converted) > 999_999_999) return false;
        value = (int)converted;
        return true;
    }

    // In decimal arithmetic: 0.29 as a percentage is 29, not 28.999999999999996 on the wrong side of a range.
    private double Converted(double value) => (double)((decimal)value * (decimal)_unit.Multiply / (decimal)_unit.Divide);

    // An explicit "none" beside another value contradicts itself: a consistency rule says so, nothing is lost here.
    private CellRule ReadSet(ReadOnlySpan<byte> cell, ColumnBuffer buffer, int row, out MissingReason reason)
    {
        reason = MissingReason.Blank;
        var mask = 0;
        if (_words.TryFind(cell, out var whole) && whole < 0)
        {
            reason = Reason(whole);
            return CellRule.None;
        }

        foreach (var range in cell.Split(_split))
        {
            var part = Strict.Trim(cell[range]);
            if (part.IsEmpty) continue;
            if (!_words.TryFind(part, out var value) || value < 0) return CellRule.NotAllowed;
            mask |= 1 << value;
        }

        buffer.Ints[row] = mask;
        return mask == 0 ? CellRule.NotAllowed : CellRule.None;
    }

    private static MissingReason Reason(int word) => (MissingReason)(-1 - word);

    private static (double Low, double High) Ends(Interval? range) =>
        (range?.Minimum is { } low ? (double)low : double.NegativeInfinity,
            range?.Maximum is { } high ? (double)high : double.PositiveInfinity);

    private static DatePattern? PatternOf(Field field, Mapping.ColumnMapping? column, string file)
    {
        var line = column?.Line ?? 0;
        return field.Type switch
        {
            FieldType.Date => DatePattern.ForDates(column?.Pattern ?? "yyyy-MM-dd")
                ?? throw Failure.Definition(file, line,
                    $"`{column!.Pattern}` is no date pattern; use yyyy, MM (or M, MMM) and dd (or d), such as dd/MM/yyyy"),
            FieldType.Time => DatePattern.ForTimes(column?.Pattern ?? "HH:mm")
                ?? throw Failure.Definition(file, line, $"`{column!.Pattern}` is no time pattern; use HH and mm, such as HH:mm"),
            _ when column?.Pattern is not null => throw Failure.Definition(file, line, $"field `{field.Name}` is no date; remove `date`"),
            _ => null,
        };
    }

    private static IEnumerable<string> Missing(Field field, Mapping.ColumnMapping? column) =>
        field.Missing.Select(token => token.Word).Concat(column is null ? [] : column.Missing.Keys.Concat(column.Codes.Keys))
            .Where(word => word.Length > 0);

    private static WordTable Words(Field field, Mapping.ColumnMapping? column, string file)
    {
        var words = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var token in field.Missing)
            if (token.Word.Length > 0)
                words[token.Word] = -1 - (int)token.Reason;
        // A person types this one by hand, in a column of numbers: however it is written, the worst case is not lost.
        foreach (var token in field.Missing)
            if (token.Reason == MissingReason.Unrecordable)
                words[token.Word.ToUpperInvariant()] =
                    words[char.ToUpperInvariant(token.Word[0]) + token.Word[1..]] = -1 - (int)token.Reason;
        var values = field.Type switch
        {
            FieldType.YesNo => ["no", "yes"],
            FieldType.Code or FieldType.Set => field.Allowed,
            _ => System.Collections.Immutable.ImmutableArray<string>.Empty,
        };
        if (field.Type == FieldType.Set && values.Length > 31)
            throw Failure.Definition(file, column?.Line ?? 0,
                string.Create(CultureInfo.InvariantCulture, $"set field `{field.Name}` has {values.Length} values; 31 is the most"));
        for (var i = 0; i < values.Length; i++)
            words[values[i]] = i;
        if (column is null) return new WordTable(words);
        foreach (var (word, value) in column.Codes)
        {
            var reason = field.Missing.FirstOrDefault(token => token.Word == value && value.Length > 0);
            words[word] = values.IndexOf(value) is var at and >= 0 ? at
                : reason.Word is not null ? -1 - (int)reason.Reason
                : throw Failure.Definition(file, column.Line,
                    $"`{value}` is no value of field `{field.Name}`; allowed: {string.Join(", ", values)}");
        }

        foreach (var (word, reason) in column.Missing)
            words[word] = reason != MissingReason.Unrecordable || field.MayBeUnrecordable ? -1 - (int)reason
                : throw Failure.Definition(file, column.Line,
                    $"field `{field.Name}` cannot be unrecordable: only saturations and pressures can be too low to measure");
        return new WordTable(words);
    }
}
