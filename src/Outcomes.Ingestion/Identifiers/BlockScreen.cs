using Outcomes.Ingestion.Store;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Searches the cells of one block and counts what it finds by column and kind. Of cells that are not read nothing else remains.
/// </summary>
public sealed class BlockScreen(ScreenPlan plan, UniqueColumns unique)
{
    // A column of a few words repeats them; one of many is searched cell by cell.
    private const int Remembered = 4096;

    private readonly Dictionary<ulong, Identifier>[] _seen = [.. plan.Asked.Select(_ => new Dictionary<ulong, Identifier>())];
    private readonly List<ulong>[] _values = [.. plan.Asked.Select(_ => new List<ulong>())];

    public Sightings Found { get; } = new(plan.Asked.Length);

    /// <summary>The values of a column in file order, as hashes, for as long as the column may be one in which none repeats.</summary>
    public IReadOnlyList<ulong> Values(int column) => _values[column];

    public void Reset()
    {
        Found.Clear();
        foreach (var values in _values) values.Clear();
    }

    /// <summary>Searches a trimmed cell of any column.</summary>
    /// <returns>What was found that makes the cell missing; ten digits that pass no check are only counted.</returns>
    public Identifier Look(ReadOnlySpan<byte> cell, int column, int row, int line)
    {
        var place = Math.Min(column, plan.Asked.Length - 1);
        if (place < plan.ShouldRepeat.Length && plan.ShouldRepeat[place]) Note(cell, place);
        var asked = plan.Asked[place];
        if ((Detect.Possible(cell) & asked) == Identifier.None) return Identifier.None;
        var found = Known(cell, place, asked);
        if (found == Identifier.None) return found;
        Found.Add(place, found, row, line);
        return found & ~Identifier.TenDigits;
    }

    private Identifier Known(ReadOnlySpan<byte> cell, int column, Identifier asked)
    {
        if (asked == IdentifierSets.OfKeys) return Detect.In(cell, asked);
        var hash = KeyHash.Of(cell);
        if (_seen[column].TryGetValue(hash, out var found)) return found;
        found = Detect.In(cell, asked);
        if (_seen[column].Count < Remembered) _seen[column].Add(hash, found);
        return found;
    }

    private void Note(ReadOnlySpan<byte> cell, int column)
    {
        if (unique.MayBe(column)) _values[column].Add(cell.Length >= UniqueColumns.ShortestValue ? KeyHash.Of(cell) : 0);
    }
}

/// <summary>How often each kind was found in each column, and where first.</summary>
public sealed class Sightings(int columns)
{
    private readonly int[] _count = new int[columns * IdentifierRules.Bits];
    private readonly (int Row, int Line)[] _first = new (int, int)[columns * IdentifierRules.Bits];
    private bool _any;

    public int Columns => columns;

    public int Count(int column, Identifier kind) => _count[At(column, kind)];

    /// <summary>Row and line of the first; meaningless where the count is 0.</summary>
    public (int Row, int Line) First(int column, Identifier kind) => _first[At(column, kind)];

    public void Clear()
    {
        if (!_any) return;
        Array.Clear(_count);
        _any = false;
    }

    public void Add(int column, Identifier found, int row, int line)
    {
        _any = true;
        for (var bit = 0; bit < IdentifierRules.Bits; bit++)
        {
            if (((int)found >> bit & 1) == 0) continue;
            var at = (column * IdentifierRules.Bits) + bit;
            if (_count[at]++ == 0) _first[at] = (row, line);
        }
    }

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
    }

    private static int At(int column, Identifier kind) => (column * IdentifierRules.Bits) + System.Numerics.BitOperations.TrailingZeroCount((int)kind);
}
