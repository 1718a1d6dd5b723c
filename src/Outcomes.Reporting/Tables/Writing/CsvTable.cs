using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using Outcomes.Records;

namespace Outcomes.Reporting.Tables;

/// <summary>
/// A table as a list of columns, each with its schema and what it takes from a row: heading, description and cell stand together, so that a
/// row cannot be written under the wrong heading.
/// </summary>
/// <typeparam name="TRow">What one row is made from.</typeparam>
/// <param name="path">Its file within the set.</param>
/// <param name="title">What it holds, in a phrase.</param>
/// <param name="description">What one row is.</param>
internal sealed class CsvTable<TRow>(string path, string title, string description)
    where TRow : allows ref struct
{
    private readonly List<Action<TableWriter, TRow>> _cells = [];

    public TableSchema Schema { get; private set; } = new(path, title, description, []);

    /// <summary>Writes the cells of one row, without its end.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public TableWriter Cells(TableWriter table, TRow row)
    {
        foreach (var cell in _cells)
            cell(table, row);
        return table;
    }

    /// <summary>Writes a whole file; rows stand in the order given.</summary>
    public void Write(string file, IEnumerable<TRow> rows) => Write(file, [], table =>
    {
        foreach (var row in rows)
            Cells(table, row).End();
    });

    /// <summary>The same to the table's own place in a set.</summary>
    /// <param name="place">Gives a file of the set the path to write it to.</param>
    /// <param name="rows">The rows.</param>
    public void Write(Func<string, string> place, IEnumerable<TRow> rows) => Write(place(Schema.Path), rows);

    /// <summary>Writes a whole file whose rows have further cells, under the headings given.</summary>
    public void Write(string file, ImmutableArray<string> further, Action<TableWriter> rows) =>
        TableWriter.ToFile(file, [.. Schema.Columns.Select(column => column.Name), .. further], rows);

    /// <summary>Adds columns whose cells are written together.</summary>
    /// <param name="columns">Their headings and meanings.</param>
    /// <param name="cells">Writes one cell a column, in their order.</param>
    public CsvTable<TRow> Group(ImmutableArray<ColumnSchema> columns, Action<TableWriter, TRow> cells)
    {
        _cells.Add(cells);
        return With(schema => schema with { Columns = schema.Columns.AddRange(columns) });
    }

    public CsvTable<TRow> With(Func<TableSchema, TableSchema> change)
    {
        Schema = change(Schema);
        return this;
    }

    /// <summary>Adds a column of text.</summary>
    /// <param name="column">Its heading and meaning.</param>
    /// <param name="cell">What it takes from a row; null leaves the cell empty.</param>
    public CsvTable<TRow> Text(ColumnSchema column, Func<TRow, string?> cell) => Add(column, (table, row) => table.Text(cell(row)));

    public CsvTable<TRow> Text(string name, string meaning, Func<TRow, string?> cell) => Text(new(name, ColumnType.Text, meaning), cell);

    /// <summary>Adds a column of text that is never empty.</summary>
    /// <param name="name">Its heading.</param>
    /// <param name="meaning">What it means.</param>
    /// <param name="cell">What it takes from a row.</param>
    /// <param name="allowed">The values it may take; none given: any.</param>
    public CsvTable<TRow> Word(string name, string meaning, Func<TRow, string> cell, params ImmutableArray<string> allowed) =>
        Text(new(name, ColumnType.Text, meaning) { Required = true, Allowed = allowed }, cell);

    /// <summary>Adds a column of text that is UTF-8 already.</summary>
    public CsvTable<TRow> Utf8(string name, string meaning, Func<TRow, ReadOnlySpan<byte>> cell) =>
        Add(new(name, ColumnType.Text, meaning), (table, row) => table.Text(cell(row)));

    /// <summary>Adds a column of whole numbers that are never below zero and never empty.</summary>
    public CsvTable<TRow> Number(string name, string meaning, Func<TRow, long> cell) =>
        Add(new(name, ColumnType.Integer, meaning) { Required = true, Minimum = 0 }, (table, row) => table.Integer(cell(row)));

    /// <summary>Adds a column of whole numbers; null leaves the cell empty.</summary>
    public CsvTable<TRow> Integer(ColumnSchema column, Func<TRow, long?> cell) =>
        Add(column with { Type = ColumnType.Integer }, (table, row) => Integer(table, cell(row)));

    /// <summary>Adds a column of whole numbers that are never below zero; null leaves the cell empty.</summary>
    public CsvTable<TRow> Integer(string name, string meaning, Func<TRow, long?> cell, string? unit = null) =>
        Integer(new(name, ColumnType.Integer, meaning) { Minimum = 0, Unit = unit }, cell);

    /// <summary>Adds a column of decimal numbers; null leaves the cell empty.</summary>
    public CsvTable<TRow> Decimal(ColumnSchema column, Func<TRow, double?> cell) =>
        Add(column with { Type = ColumnType.Number }, (table, row) => table.Number(cell(row)));

    public CsvTable<TRow> Decimal(string name, string meaning, Func<TRow, double?> cell) =>
        Decimal(new(name, ColumnType.Number, meaning), cell);

    /// <summary>Adds a column of yes and no; null leaves the cell empty.</summary>
    public CsvTable<TRow> YesNo(string name, string meaning, Func<TRow, bool?> cell) =>
        Add(new(name, ColumnType.YesNo, meaning), (table, row) => YesNo(table, cell(row)));

    /// <summary>Adds a column of dates that is never empty.</summary>
    public CsvTable<TRow> Date(string name, string meaning, Func<TRow, DateOnly> cell) =>
        Add(new(name, ColumnType.Date, meaning) { Required = true }, (table, row) => table.Date(cell(row)));

    /// <summary>Adds a column of months that is never empty.</summary>
    public CsvTable<TRow> Month(string name, string meaning, Func<TRow, Month> cell) =>
        Add(new(name, ColumnType.Month, meaning) { Required = true }, (table, row) => table.Text(cell(row).ToString()));

    private CsvTable<TRow> Add(ColumnSchema column, Action<TableWriter, TRow> cell) => Group([column], cell);

    private static TableWriter Integer(TableWriter table, long? value) => value is { } known ? table.Integer(known) : table.Empty();

    private static TableWriter YesNo(TableWriter table, bool? value) => value is { } known ? table.YesNo(known) : table.Empty();
}
