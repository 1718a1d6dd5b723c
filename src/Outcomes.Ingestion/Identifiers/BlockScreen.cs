using Outcomes.Ingestion.Store;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Searches the cells of one block and counts what it finds by column and kind. Of cells that are not read nothing else remains.
/// </summary>
public sealed class BlockScreen(ScreenPlan plan, ColumnEvidence evidence)
{
    // A column of a few words repeats them; one of many is searched cell by cell.
    private const int Remembered = 4096;

    private readonly Dictionary<ulong, Identifier>[] _seen = [.. plan.Asked.Select(_ => new Dictionary<ulong, Identifier>())];
    private readonly List<ColumnValue>[] _values = [.. plan.Asked.Select(_ => new List<ColumnValue>())];

    public Sightings Found { get; } = new(plan.Asked.Length);

    /// <summary>The values of a column in file order, for as long as they may say something of it as a whole.</summary>
    public IReadOnlyList<ColumnValue> Values(int column) => _values[column];

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
        if (place < plan.Whole.Length && plan.Whole[place] != WholeColumn.None && _values[place].Count < ColumnEvidence.Most
            && evidence.MayBe(place))
            _values[place].Add(ColumnValue.Of(cell));
        var asked = plan.Asked[place];
        if ((Detect.Possible(cell) & asked) == Identifier.None) return Identifier.None;
        var found = Known(cell, place, asked);
        if (found == Identifier.None) return found;
        Found.Add(place, found, row, line);
        if ((found & Identifier.TenDigits) != 0) Found.AddNumber(place, KeyHash.Of(cell), found);
        return found & ~IdentifierSets.Counted;
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
}
