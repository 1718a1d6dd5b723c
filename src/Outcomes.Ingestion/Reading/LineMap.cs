namespace Outcomes.Ingestion.Reading;

/// <summary>
/// From lines of a converted text to the places that its readers know: sheet rows, or rows of a table without lines. Only changes
/// of the difference are kept, so a table without line breaks in its cells needs one entry.
/// </summary>
public sealed class LineMap
{
    private readonly List<int> _from = [];
    private readonly List<int> _shift = [];

    /// <summary>
    /// From <paramref name="line"/> of the text on, the place is <paramref name="place"/> and counts up line by line. Lines come in order.
    /// </summary>
    public void Add(int line, int place)
    {
        if (_shift.Count > 0 && _shift[^1] == place - line) return;
        _from.Add(line);
        _shift.Add(place - line);
    }

    /// <summary>The place of a line of the text.</summary>
    public int Of(int line)
    {
        var at = _from.BinarySearch(line);
        if (at < 0) at = ~at - 1;
        return at < 0 ? line : line + _shift[at];
    }
}
