namespace Outcomes.Synthetic.Export;

/// <summary>RFC 4180 text with line feeds, the same on every system.</summary>
internal static class Csv
{
    public static void Row(TextWriter writer, ReadOnlySpan<string> cells)
    {
        for (var i = 0; i < cells.Length; i++)
        {
            if (i > 0)
                writer.Write(',');
            if (cells[i].AsSpan().ContainsAny(',', '"', '\n'))
            {
                writer.Write('"');
                writer.Write(cells[i].Replace("\"", "\"\"", StringComparison.Ordinal));
                writer.Write('"');
            }
            else
                writer.Write(cells[i]);
        }
        writer.Write('\n');
    }
}
