using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Reporting.Tables;

namespace Outcomes.Reporting.AnalysisSet;

/// <summary>A row of <c>codebook.csv</c>: a column and its table.</summary>
public sealed record CodebookRow(TableSchema Table, ColumnSchema Column);

/// <summary>A row of <c>labels.csv</c>: a value and what people read in its place.</summary>
public sealed record LabelRow(CodebookRow Of, int Place, string Value, string Label);

/// <summary><c>codebook.csv</c> and <c>labels.csv</c>: the columns of the set and their values, for programs.</summary>
public static class CodebookTable
{
    internal static readonly CsvTable<CodebookRow> Table = new CsvTable<CodebookRow>(
        "codebook.csv",
        "Every column of the set",
        "One row is one column of one table, in their order. The same stands in codebook.html for people and in "
            + "datapackage.json for programs.")
        .Word("table", "The table, by its file name without extension.", row => row.Table.Name)
        .Word("column", "The column.", row => row.Column.Name)
        .Text("title", "A short heading.", row => row.Column.Title)
        .Word("type", "What its cells hold: yes/no columns are booleans in Parquet and yes or no in CSV.",
            row => TypeName(row.Column.Type), "text", "integer", "number", "yes/no", "date", "month")
        .Text("unit", "UCUM unit.", row => row.Column.Unit)
        .YesNo("required", "Whether no cell is empty.", row => row.Column.Required)
        .Decimal("minimum", "The least possible value; of a date no value.", row => End(row, row.Column.Minimum))
        .Decimal("maximum", "The greatest possible value; likewise.", row => End(row, row.Column.Maximum))
        .Word("meaning", "What it means.", row => row.Column.Description)
        .Text("sql", "The SQL that it is worked out by.", row => row.Column.Sql)
        .With(schema => schema with { DepartmentOnly = true, Key = ["table", "column"] });

    internal static readonly CsvTable<LabelRow> Labels = new CsvTable<LabelRow>(
        "labels.csv",
        "Every coded value and its label",
        "One row is one value of one column, in the order of printing.")
        .Word("table", "The table.", row => row.Of.Table.Name)
        .Word("column", "The column.", row => row.Of.Column.Name)
        .Number("place", "Its place among the column's values, 1 first.", row => row.Place)
        .Word("value", "The value as tables hold it.", row => row.Value)
        .Word("label", "What people read in its place.", row => row.Label)
        .With(schema => schema with { DepartmentOnly = true, Key = ["table", "column", "value"] });

    /// <summary>Writes both into a folder.</summary>
    public static void Write(string folder, ImmutableArray<TableSchema> tables)
    {
        CodebookRow[] rows = [.. tables.SelectMany(table => table.Columns.Select(column => new CodebookRow(table, column)))];
        Table.Write(name => Path.Combine(folder, name), rows);
        Labels.Write(name => Path.Combine(folder, name), rows.SelectMany(row => row.Column.Allowed
            .Zip(row.Column.Labels, (value, label) => (Value: value, Label: label))
            .Select((pair, i) => new LabelRow(row, i + 1, pair.Value, pair.Label))));
    }

    /// <summary>A type in words.</summary>
    public static string TypeName(ColumnType type) => type switch
    {
        ColumnType.Integer => "integer",
        ColumnType.Number => "number",
        ColumnType.YesNo => "yes/no",
        ColumnType.Date => "date",
        ColumnType.Month => "month",
        _ => "text",
    };

    private static double? End(CodebookRow row, decimal? end) => row.Column.Type == ColumnType.Date || end is null ? null
        : Convert.ToDouble(end.Value, CultureInfo.InvariantCulture);
}
