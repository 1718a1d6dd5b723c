using System.Globalization;
using System.Text;
using Outcomes.Reporting.Tables;

namespace Outcomes.Tests.Reporting.Tables;

/// <summary>What README and docs/tables.md must say of the tables, made from their schemas.</summary>
internal static class TablesPage
{
    private const string Head = """
        # The tables of a set

        Every CSV file that a run writes, with its columns. This page and `datapackage.json` are made from the schemas that the writer itself uses
        (`src/Outcomes.Reporting/Tables`); `TablesPageTests` holds it to them. All files are UTF-8 with a header, LF line ends and commas.
        Numbers have a full stop and up to 12 significant digits; proportions are fractions from 0 to 1. An empty cell is no value. Text that a
        spreadsheet would run as a formula has an apostrophe in front; a control character or a direction mark is its code point, such as
        `{U+202E}`. `data/records.parquet` and `data/attempts.parquet` are described in `datapackage.json`, column by column from the dictionary
        of the pipeline.


        """;

    /// <summary>README's row of a table.</summary>
    public static string ReadmeRow(TableSchema table) => $"| `{table.Path}` | {Asked(table)}{Cell(table.Title)} |";

    /// <summary>The whole of docs/tables.md.</summary>
    public static string Text()
    {
        var page = new StringBuilder(Head.ReplaceLineEndings("\n"));
        foreach (var table in TableSchemas.All)
            Add(page, table);
        return page.ToString().TrimEnd() + "\n";
    }

    private static void Add(StringBuilder page, TableSchema table)
    {
        page.Append(CultureInfo.InvariantCulture, $"## {table.Path}\n\n{Asked(table)}{table.Title}. {table.Description}");
        if (table.DepartmentOnly)
            page.Append(" For the department alone.");
        if (!table.Key.IsEmpty)
            page.Append(CultureInfo.InvariantCulture, $" Key: {string.Join(", ", table.Key.Select(name => $"`{name}`"))}.");
        page.Append("\n\n| Column | Type | Unit | What it holds |\n| --- | --- | --- | --- |\n");
        foreach (var column in table.Columns)
            page.Append(CultureInfo.InvariantCulture,
                $"| `{column.Name}` | {Type(column)} | {column.Unit} | {Cell(column.Description)}{Limits(column)} |\n");
        page.Append('\n');
    }

    private static string Type(ColumnSchema column) => column.Type switch
    {
        ColumnType.Text => "text",
        ColumnType.Integer => "integer",
        ColumnType.Number => "number",
        ColumnType.YesNo => "yes/no",
        ColumnType.Date => "date",
        _ => "month",
    };

    private static string Limits(ColumnSchema column)
    {
        var said = new List<string>();
        if (!column.Allowed.IsEmpty)
            said.Add(string.Join(", ", column.Allowed.Select(value => $"`{value}`")));
        if (column.Maximum is { } maximum)
            said.Add(string.Create(CultureInfo.InvariantCulture, $"{column.Minimum ?? 0} to {maximum}"));
        else if (column.Minimum is { } minimum)
            said.Add(string.Create(CultureInfo.InvariantCulture, $"{minimum} or more"));
        if (column.Required)
            said.Add("never empty");
        return said.Count == 0 ? "" : $" ({string.Join("; ", said)})";
    }

    private static string Asked(TableSchema table) => table.AskedBy is { } key ? $"With `{key}:`. " : "";

    private static string Cell(string text) => text.Replace("|", "\\|", StringComparison.Ordinal);
}
