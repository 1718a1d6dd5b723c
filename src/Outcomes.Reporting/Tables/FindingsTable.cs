using Outcomes.Records;

namespace Outcomes.Reporting.Tables;

/// <summary><c>findings.csv</c>: what is wrong with the data.</summary>
public static class FindingsTable
{
    internal static readonly CsvTable<Finding> Table = new CsvTable<Finding>(
        "tables/findings.csv",
        "What is wrong with the data: rule, severity, file, line, column and explanation; never the value",
        "One row is one finding.")
        .Word("rule", "Id of the rule. `outcomes describe ID` explains a consistency rule.", row => row.Rule)
        .Word("severity", "warn: the value stays; blank: it becomes missing; refuse: the row is quarantined.",
            row => Word(row.Severity), "warn", "blank", "refuse")
        .Text("file", "File of the source, as the pipeline names it.", row => row.File)
        // Line 0 means the whole file: no line.
        .Integer("line", "Line of that file where the row starts; empty where the finding concerns the whole file.",
            row => row.Line > 0 ? row.Line : null)
        .Text("column", "Heading of the column, or the field; empty where the finding concerns the whole row.", row => row.Column)
        .Text("record_id", "Key of the record; empty where the row has no usable key.", row => row.RecordId)
        .Word("explanation", "What is wrong, and what to do.", row => row.Explanation)
        .With(schema => schema with { DepartmentOnly = true });

    public static void Write(Func<string, string> place, IEnumerable<Finding> rows) => Table.Write(place, rows);

    private static string Word(Severity severity) => severity switch
    {
        Severity.Refuse => "refuse",
        Severity.Blank => "blank",
        _ => "warn",
    };
}
