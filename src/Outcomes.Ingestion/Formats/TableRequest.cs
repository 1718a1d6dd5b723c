using System.Collections.Immutable;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>What turning a table into text needs to know.</summary>
/// <param name="File">The file's name in messages.</param>
/// <param name="Mapping">Where the table lies: sheet, heading row, encoding, decimal sign.</param>
public sealed record TableRequest(string File, SourceMapping Mapping)
{
    /// <summary>From the headings to the reader of each column, by which typed cells are written; null where a column has none.</summary>
    public Func<ImmutableArray<string>, CellReader?[]> Readers { get; init; } = headings => new CellReader?[headings.Length];

    /// <summary>False lets a heading pass that is an identifier: for the command that takes its column out.</summary>
    public bool Refuse { get; init; } = true;

    /// <summary>Rows after which a workbook, Parquet or JSON file is not read further.</summary>
    public int MostRows { get; init; } = int.MaxValue;

    /// <summary>A table whose cells are read by no mapping yet.</summary>
    public static TableRequest Unmapped(string file, TableLayout layout) => new(file, new SourceMapping("", "", layout, []));

    /// <summary>A table whose typed cells are written as the fields that they are mapped to read them.</summary>
    public static TableRequest Mapped(string file, SourceMapping mapping, FieldDictionary dictionary) => new(file, mapping)
    {
        Readers = headings =>
        {
            var readers = new CellReader?[headings.Length];
            var plan = RowPlan.Make(mapping, dictionary, headings, file);
            foreach (var column in plan.Columns.Concat(plan.Attempts.SelectMany(attempt => attempt.Columns)))
                readers[column.FileColumn] ??= column.Reader;
            return readers;
        },
    };
}
