using Outcomes.Synthetic.Export;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>The export of procedures of an invented department, as rows of cells that the study may change.</summary>
internal sealed class ExportTable
{
    private readonly List<string> _headings;

    private ExportTable(List<string> headings, List<List<string>> rows) => (_headings, Rows) = (headings, rows);

    public List<List<string>> Rows { get; }

    /// <summary>Reads what <see cref="SyntheticFolder"/> wrote; its cells hold no line break.</summary>
    public static ExportTable Parse(string text)
    {
        List<List<string>> lines = [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(Cells)];
        return new(lines[0], lines[1..]);
    }

    public ExportTable Copy() => new([.. _headings], [.. Rows.Select(row => row.ToList())]);

    public bool Has(string heading) => _headings.Contains(heading);

    /// <summary>Adds a column; its cells are given by the row.</summary>
    public void Add(string heading, Func<List<string>, string> cell)
    {
        foreach (var row in Rows)
            row.Add(cell(row));
        _headings.Add(heading);
    }

    public string Cell(List<string> row, string heading) => row[_headings.IndexOf(heading)];

    public double? Number(List<string> row, string heading) =>
        double.TryParse(Cell(row, heading), System.Globalization.CultureInfo.InvariantCulture, out var value) ? value : null;

    public void Set(List<string> row, string heading, string cell) => row[_headings.IndexOf(heading)] = cell;

    public string Text() => string.Concat(Rows.Prepend(_headings).Select(row => string.Join(',', row.Select(Quoted)) + "\n"));

    private static string Quoted(string cell) => cell.Contains(',') ? $"\"{cell}\"" : cell;

    private static List<string> Cells(string line)
    {
        List<string> cells = [];
        var (from, quoted) = (0, false);
        for (var i = 0; i <= line.Length; i++)
            if (i < line.Length && line[i] == '"')
                quoted = !quoted;
            else if (i == line.Length || (line[i] == ',' && !quoted))
            {
                cells.Add(line[from..i].Trim('"'));
                from = i + 1;
            }

        return cells;
    }
}
