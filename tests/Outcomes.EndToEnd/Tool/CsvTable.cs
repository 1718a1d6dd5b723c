using System.Text;

namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>
/// Reads a table that the tool wrote, by RFC 4180 alone: a reader of our own, so that writer and reader cannot be wrong alike.
/// </summary>
internal sealed class CsvTable
{
    private readonly string[] _columns;
    private readonly List<string[]> _rows;

    private CsvTable(string path)
    {
        var lines = Parse(File.ReadAllText(path)).ToList();
        _columns = lines[0];
        _rows = lines[1..];
        Assert.All(_rows, row => Assert.Equal(_columns.Length, row.Length));
    }

    public IReadOnlyList<string> Columns => _columns;

    public int Count => _rows.Count;

    /// <summary>Rows as values by column heading.</summary>
    public IEnumerable<IReadOnlyDictionary<string, string>> Rows =>
        _rows.Select(row => _columns.Zip(row).ToDictionary(pair => pair.First, pair => pair.Second, StringComparer.Ordinal));

    public static CsvTable Read(params string[] parts) => new(Path.Combine(parts));

    private static IEnumerable<string[]> Parse(string text)
    {
        var cells = new List<string>();
        var cell = new StringBuilder();
        var quoted = false;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (quoted && c == '"' && i + 1 < text.Length && text[i + 1] == '"')
                cell.Append(text[i++]);
            else if (c == '"')
                quoted = !quoted;
            else if (quoted || c is not (',' or '\n'))
                cell.Append(c);
            else
            {
                cells.Add(cell.ToString());
                cell.Clear();
                if (c != '\n')
                    continue;
                yield return [.. cells];
                cells.Clear();
            }
        }
        Assert.True(cells.Count == 0 && cell.Length == 0, "the table does not end with a line end");
    }
}
