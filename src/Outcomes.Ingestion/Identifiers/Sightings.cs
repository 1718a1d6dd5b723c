using System.Numerics;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// How often each kind was found in each column, and where first; and how many different ten-digit values a column holds.
/// </summary>
public sealed class Sightings(int columns)
{
    /// <summary>Different ten-digit values kept a column: the first in file order. More say nothing new.</summary>
    public const int MostNumbers = 20_000;

    private readonly int[] _count = new int[columns * IdentifierRules.Bits];
    private readonly (int Row, int Line)[] _first = new (int, int)[columns * IdentifierRules.Bits];
    private readonly Dictionary<ulong, bool>?[] _numbers = new Dictionary<ulong, bool>?[columns];
    private bool _any;

    public int Columns => columns;

    public int Count(int column, Identifier kind) => _count[At(column, kind)];

    /// <summary>Row and line of the first; meaningless where the count is 0.</summary>
    public (int Row, int Line) First(int column, Identifier kind) => _first[At(column, kind)];

    /// <summary>
    /// Different ten-digit values of a column, and how many of them pass the check. A code that stands in a hundred rows is one.
    /// </summary>
    public (int All, int Passing) Numbers(int column) =>
        _numbers[column] is { } numbers ? (numbers.Count, numbers.Values.Count(passes => passes)) : (0, 0);

    public void Clear()
    {
        if (!_any) return;
        Array.Clear(_count);
        foreach (var numbers in _numbers) numbers?.Clear();
        _any = false;
    }

    public void Add(int column, Identifier found, int row, int line)
    {
        _any = true;
        for (var left = (uint)found; left != 0; left &= left - 1)
        {
            var at = (column * IdentifierRules.Bits) + BitOperations.TrailingZeroCount(left);
            if (_count[at]++ == 0) _first[at] = (row, line);
        }
    }

    /// <summary>Adds a cell with a ten-digit value.</summary>
    public void AddNumber(int column, ulong hash, Identifier found) =>
        AddNumber(column, hash, (found & (IdentifierSets.Passing | Identifier.Unissued | Identifier.NhsForm)) != 0);

    /// <summary>Adds the sightings of a later block, whose rows are numbered from <paramref name="firstRow"/>.</summary>
    public void Add(Sightings later, int firstRow)
    {
        if (!later._any) return;
        _any = true;
        for (var at = 0; at < _count.Length; at++)
        {
            if (later._count[at] == 0) continue;
            if (_count[at] == 0) _first[at] = (later._first[at].Row + firstRow, later._first[at].Line);
            _count[at] += later._count[at];
        }

        for (var column = 0; column < columns; column++)
            if (later._numbers[column] is { } numbers)
                foreach (var (hash, passes) in numbers)
                    AddNumber(column, hash, passes);
    }

    private void AddNumber(int column, ulong hash, bool passes)
    {
        var numbers = _numbers[column] ??= [];
        if (numbers.Count < MostNumbers) numbers.TryAdd(hash, passes);
    }

    private static int At(int column, Identifier kind) => (column * IdentifierRules.Bits) + BitOperations.TrailingZeroCount((int)kind);
}
