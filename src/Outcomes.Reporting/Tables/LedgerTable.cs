using Outcomes.Records;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>ledger.csv</c>.</summary>
/// <param name="file">The file, as the pipeline names it.</param>
/// <param name="line">Physical line, 1-based; 0 for the whole file.</param>
/// <param name="recordId">The key as UTF-8: a million of them are written without becoming strings.</param>
/// <param name="fate">What became of it.</param>
/// <param name="rule">The rule that decided it, where one did.</param>
/// <param name="rows">How many input rows it stands for: 1 but for samples of a trace.</param>
public readonly ref struct LedgerRow(string file, int line, ReadOnlySpan<byte> recordId, Fate fate, string rule, long rows = 1)
{
    public string File { get; } = file;

    public int Line { get; } = line;

    public ReadOnlySpan<byte> RecordId { get; } = recordId;

    public Fate Fate { get; } = fate;

    public string Rule { get; } = rule;

    public long Rows { get; } = rows;
}

/// <summary><c>ledger.csv</c>: the fate of every input row.</summary>
public static class LedgerTable
{
    internal static readonly CsvTable<LedgerRow> Table = new CsvTable<LedgerRow>(
        "tables/ledger.csv",
        "The fate of every input row: accepted, superseded, withdrawn or quarantined",
        "One row is one line of a source file, all samples of one trace, or a refused file as a whole.")
        .Text("file", "File of the source, as the pipeline names it.", row => row.File)
        .Integer("line", "Line of that file where the row starts; empty for a refused file.", row => row.Line > 0 ? row.Line : null)
        .Utf8("record_id", "Key of the record; empty where the row has no usable key.", row => row.RecordId)
        .Word("fate", "What became of it.", row => Word(row.Fate), "accepted", "superseded", "withdrawn", "quarantined", "refused")
        .Text("rule", "Id of the rule that decided it; empty for an accepted row.", row => row.Rule)
        .Number("rows", "How many input rows it stands for: 1, or the number of samples of a trace.", row => row.Rows)
        .With(schema => schema with { DepartmentOnly = true });

    /// <summary>Writes the file; the caller adds each row, which may be a million.</summary>
    public static void Write(Func<string, string> place, Action<TableWriter> rows) => Table.Write(place(Table.Schema.Path), [], rows);

    /// <summary>Adds one row.</summary>
    public static void Add(TableWriter table, LedgerRow row) => Table.Cells(table, row).End();

    private static string Word(Fate fate) => fate switch
    {
        Fate.Accepted => "accepted",
        Fate.Superseded => "superseded",
        Fate.Withdrawn => "withdrawn",
        Fate.Quarantined => "quarantined",
        _ => "refused",
    };
}
