using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>quarantine.csv</c>: where it came from, why it is there, and its own cells as they were read.</summary>
/// <param name="Origin">The file, as the pipeline writes it: a mended row supersedes what came from there.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="Reasons">Rule ids, separated by spaces.</param>
/// <param name="Cells">Its own cells, one a column.</param>
public sealed record QuarantineRow(string Origin, int Line, string Reasons, ImmutableArray<string> Cells);

/// <summary><c>quarantine.csv</c>: rows to correct.</summary>
public static class QuarantineTable
{
    internal static readonly CsvTable<QuarantineRow> Table = new CsvTable<QuarantineRow>(
        "tables/quarantine.csv",
        "The quarantined rows with the reasons and their own columns: copy it, correct rows, and name the copy beside its source "
        + "(mended: mended.csv)",
        "One row is one quarantined row. The columns of its source follow under their own headings.")
        .Word("origin", "File of the source, as the pipeline names it.", row => row.Origin)
        .Number("line", "Line of that file where the row starts.", row => row.Line)
        .Word("reasons", "Ids of the rules that refuse the row, separated by blanks.", row => row.Reasons)
        .With(schema => schema with { DepartmentOnly = true });

    /// <summary>Writes the file.</summary>
    /// <param name="place">Gives a file of the set the path to write it to.</param>
    /// <param name="headings">The headings of the rows' own cells.</param>
    /// <param name="rows">The rows.</param>
    /// <returns>The schema of this file, the source's columns included.</returns>
    public static TableSchema Write(Func<string, string> place, ImmutableArray<string> headings, IEnumerable<QuarantineRow> rows)
    {
        Table.Write(place(Table.Schema.Path), headings, table =>
        {
            foreach (var row in rows)
            {
                Table.Cells(table, row);
                foreach (var cell in row.Cells)
                    table.Text(cell);
                table.End();
            }
        });
        return Table.Schema with { Columns = [.. Table.Schema.Columns, .. headings.Select(Own)] };
    }

    // As the heading stands in the file, with the guard before text that a spreadsheet would run.
    private static ColumnSchema Own(string heading) =>
        new(FormulaGuard.On(heading), ColumnType.Text, "Column of the source, as it was read.");
}
