using System.Collections.Immutable;

namespace Outcomes.Ingestion.Reading;

/// <summary>Which of the first rows of a table holds the headings: titles, dates of export and blank rows often stand above them.</summary>
public static class HeadingRow
{
    /// <summary>Rows that are looked at.</summary>
    public const int Looked = 25;

    private const double Width = 0.5;
    private const double Words = 0.8;

    /// <summary>
    /// The first row that is at least half as wide as the widest (by filled cells) and is made of words (80 % of its cells have a letter);
    /// -1 when there is none.
    /// </summary>
    /// <param name="rows">The first rows, trimmed, in order; a row without cells is blank.</param>
    public static int Find(IReadOnlyList<ImmutableArray<string>> rows)
    {
        var widest = rows.Select(Filled).DefaultIfEmpty(0).Max();
        for (var i = 0; i < rows.Count; i++)
            if (Filled(rows[i]) is var filled && filled >= Math.Max(2, Width * widest)
                && rows[i].Count(cell => cell.Any(char.IsLetter)) >= Words * filled)
                return i;
        return -1;
    }

    private static int Filled(ImmutableArray<string> row) => row.Count(cell => cell.Length > 0);
}
