using Outcomes.Synthetic;
using Outcomes.Synthetic.Export;

namespace Outcomes.Tests;

/// <summary>The exports as text, and read again as rows of heading and cell by a reader of its own.</summary>
internal sealed record Exported(string Procedures, string Attempts, string Traces, Truth Truth)
{
    public static Exported Of(SynthesisOptions options)
    {
        using var procedures = new StringWriter();
        using var attempts = new StringWriter();
        using var traces = new StringWriter();
        var truth = ExportFiles.Write(options, procedures, attempts, traces);
        return new(procedures.ToString(), attempts.ToString(), traces.ToString(), truth);
    }

    public List<Dictionary<string, string>> ProcedureRows => Rows(Procedures);

    public List<Dictionary<string, string>> AttemptRows => Rows(Attempts);

    public static List<Dictionary<string, string>> Rows(string text)
    {
        var lines = text.TrimEnd('\n').Split('\n');
        var headings = Cells(lines[0]);
        return [.. lines.Skip(1).Select(line => headings.Zip(Cells(line)).ToDictionary(pair => pair.First, pair => pair.Second))];
    }

    /// <summary>One line of RFC 4180: no cell of these files holds a line break.</summary>
    public static List<string> Cells(string line)
    {
        var cells = new List<string>();
        var cell = new System.Text.StringBuilder();
        var quoted = false;
        for (var i = 0; i < line.Length; i++)
        {
            if (line[i] == '"' && quoted && i + 1 < line.Length && line[i + 1] == '"')
                cell.Append(line[i++]);
            else if (line[i] == '"')
                quoted = !quoted;
            else if (line[i] == ',' && !quoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
                cell.Append(line[i]);
        }
        cells.Add(cell.ToString());
        return cells;
    }
}
