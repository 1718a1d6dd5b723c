using Outcomes.Records;

namespace Outcomes.Ingestion.Store;

/// <summary>
/// One column of a block of rows, as numbers: a code's place among the allowed values, 1 or 0, a whole number, a day number,
/// a bit a value of a set. Decimals and text have buffers of their own. No cell becomes a string.
/// </summary>
public sealed class ColumnBuffer(Field field)
{
    /// <summary>Stands for a missing value in <see cref="Ints"/>; NaN does in <see cref="Doubles"/>.</summary>
    public const int Missing = int.MinValue;

    private byte[] _text = [];
    private int _textLength;

    public Field Field { get; } = field;

    public int[] Ints { get; private set; } = [];

    public double[] Doubles { get; private set; } = [];

    /// <summary>True where a text column's bytes lie in the pool: <see cref="Ints"/> then holds where they end.</summary>
    public bool IsText => Field.Type == FieldType.Text;

    public bool IsNumber => Field.Type == FieldType.Number;

    /// <summary>Makes room for <paramref name="rows"/> rows and forgets the block before.</summary>
    public void Reset(int rows)
    {
        if (Ints.Length < rows) Ints = new int[rows];
        if (IsNumber && Doubles.Length < rows) Doubles = new double[rows];
        _textLength = 0;
    }

    public void Grow(int rows)
    {
        if (Ints.Length < rows) Ints = Resized(Ints, rows);
        if (IsNumber && Doubles.Length < rows) Doubles = Resized(Doubles, rows);
    }

    public void SetMissing(int row)
    {
        if (IsNumber) Doubles[row] = double.NaN;
        else Ints[row] = IsText ? _textLength : Missing;
    }

    /// <summary>The reading was too low to measure, which is an observation and stands as <see cref="Field.TooLow"/>.</summary>
    public void SetTooLow(int row)
    {
        if (IsNumber) Doubles[row] = Field.TooLow;
        else Ints[row] = Field.TooLow;
    }

    public void SetText(int row, ReadOnlySpan<byte> text)
    {
        if (_textLength + text.Length > _text.Length)
            Array.Resize(ref _text, Math.Max(_text.Length * 2, _textLength + text.Length + 4096));
        text.CopyTo(_text.AsSpan(_textLength));
        _textLength += text.Length;
        Ints[row] = _textLength;
    }

    /// <summary>Takes back the text last set; other cells that could not be read are missing already.</summary>
    public void ClearText(int row)
    {
        if (!IsText) return;
        _textLength = row == 0 ? 0 : Ints[row - 1];
        Ints[row] = _textLength;
    }

    /// <summary>The bytes of a text cell; empty where it is missing.</summary>
    public ReadOnlySpan<byte> Text(int row)
    {
        var start = row == 0 ? 0 : Ints[row - 1];
        return _text.AsSpan(start, Ints[row] - start);
    }

    private static T[] Resized<T>(T[] array, int rows)
    {
        Array.Resize(ref array, Math.Max(rows, array.Length * 2));
        return array;
    }
}
