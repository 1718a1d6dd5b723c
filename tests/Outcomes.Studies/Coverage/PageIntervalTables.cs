using System.Globalization;
using System.Text;

namespace Outcomes.Studies.Coverage;

/// <summary>The rows of the study as one table: a kind a row, a cell a column.</summary>
internal static class PageIntervalTables
{
    /// <param name="rows">Rows of the study.</param>
    /// <param name="first">What its first column is called.</param>
    /// <param name="prefix">What is left out of the name of a kind.</param>
    public static string Markdown(IEnumerable<string> rows, string first = "interval", string prefix = "")
    {
        string[][] cells = [.. rows.Select(row => row.Split(','))];
        var columns = cells.Select(row => (Cases: row[1], Rate: row[2])).Distinct().ToArray();
        var text = new StringBuilder($"| {first} | " + string.Join(" | ", columns.Select(column =>
            $"{column.Cases} a month, {100 * double.Parse(column.Rate, CultureInfo.InvariantCulture):0} %")) + " |\n");
        text.Append("| --- |" + string.Concat(columns.Select(_ => " ---: |")) + "\n");
        foreach (var kind in cells.Select(row => row[0]).Distinct())
            text.Append($"| {kind[prefix.Length..]} | " + string.Join(" | ", columns.Select(column => string.Join(" / ", cells
                .Where(row => row[0] == kind && row[1] == column.Cases && row[2] == column.Rate).Select(row => row[5])))) + " |\n");
        return text.ToString();
    }
}
