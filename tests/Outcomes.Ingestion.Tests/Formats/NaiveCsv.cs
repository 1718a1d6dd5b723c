using System.Text;

namespace Outcomes.Tests.Ingestion;

/// <summary>
/// Delimited text read one character at a time, after RFC 4180 and two habits of readers: a quote inside a plain cell is text, and text
/// behind a closing quote belongs to the cell. Slow and plain, to check the fast one by.
/// </summary>
internal static class NaiveCsv
{
    public sealed record Row(int Line, List<string> Cells)
    {
        public bool IsBlank => Cells.All(cell => cell.Trim(' ', '\t', '\r', '\n', '\u00A0').Length == 0);
    }

    /// <summary>The records; the line where a quoted cell opens that never closes, else 0.</summary>
    public static (List<Row> Rows, int Unclosed) Read(string text, char separator)
    {
        var rows = new List<Row>();
        var cell = new StringBuilder();
        var cells = new List<string>();
        var (line, start, opened, fresh, quoted) = (1, 1, 0, true, false);
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            var breaks = c == '\n' || (c == '\r' && (i + 1 == text.Length || text[i + 1] != '\n'));
            if (quoted)
            {
                if (breaks) line++;
                if (c != '"') cell.Append(c);
                else if (i + 1 < text.Length && text[i + 1] == '"') { cell.Append('"'); i++; }
                else quoted = false;
            }
            else if (c == '"' && fresh) (quoted, fresh, opened) = (true, false, line);
            else if (c == separator) { EndCell(); fresh = true; }
            else if (breaks) { EndRow(); line++; start = line; }
            else if (c is not ('\r' or '\n')) { cell.Append(c); fresh = false; }
        }

        if (cells.Count > 0 || !fresh) EndRow();
        return (rows, quoted ? opened : 0);

        void EndCell()
        {
            cells.Add(cell.ToString());
            cell.Clear();
        }

        void EndRow()
        {
            EndCell();
            rows.Add(new Row(start, cells));
            (cells, fresh) = ([], true);
        }
    }
}
