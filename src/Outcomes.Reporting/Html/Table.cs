namespace Outcomes.Reporting.Page;

/// <summary>A column of a table.</summary>
/// <param name="Heading">Its heading.</param>
/// <param name="Number">True for numbers, which stand to the right.</param>
/// <param name="Code">True for names as files have them, which are set apart from words.</param>
internal sealed record TableColumn(string Heading, bool Number = false, bool Code = false)
{
    public static implicit operator TableColumn(string heading) => new(heading);

    public static TableColumn Num(string heading) => new(heading, true);

    public static TableColumn Names(string heading) => new(heading, Code: true);
}

/// <summary>A table as every section writes it: caption, headings with scope, its own box to scroll in where it is wide.</summary>
internal static class Table
{
    /// <param name="html">The page.</param>
    /// <param name="id">Unique in the page.</param>
    /// <param name="caption">What the table shows.</param>
    /// <param name="columns">Its columns; the first holds the row's heading.</param>
    /// <param name="rows">Writes the rows.</param>
    /// <param name="style">Class of the table.</param>
    public static void Write(Html html, string id, string caption, TableColumn[] columns, Action rows, string style = "")
    {
        html.Add($"""<div class="scroll" role="group" aria-labelledby="{id}" tabindex="0"><table class="{style}">""");
        html.Add($"""<caption id="{id}">{caption}</caption><thead><tr>""");
        foreach (var column in columns)
            html.Add($"""<th scope="col"{Number(column.Number)}>{column.Heading}</th>""");
        html.Add($"</tr></thead><tbody>\n");
        rows();
        html.Add($"</tbody></table></div>\n");
    }

    /// <summary>A row whose first cell is its heading.</summary>
    public static void Row(Html html, TableColumn[] columns, params ReadOnlySpan<string> cells)
    {
        html.Add($"""<tr><th scope="row">""");
        Cell(html, columns[0], cells[0]);
        html.Add($"</th>");
        for (var i = 1; i < cells.Length; i++)
        {
            html.Add($"<td{Number(columns[i].Number)}>");
            Cell(html, columns[i], cells[i]);
            html.Add($"</td>");
        }

        html.Add($"</tr>\n");
    }

    private static void Cell(Html html, TableColumn column, string text)
    {
        if (column.Code && text.Length > 0)
            html.Add($"<code>{text}</code>");
        else
            html.Add($"{text}");
    }

    private static Markup Number(bool number) => new(number ? " class=\"n\"" : "");
}
