using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Tables;

namespace Outcomes.Reporting.AnalysisSet;

/// <summary>The tables of the analysis set: what the writer, the data package and the codebook are all made from.</summary>
public static class AnalysisSchemas
{
    public const string Procedure = "procedure", Attempt = "attempt", Trace = "trace_summary", Measures = "measures";

    private const string Missing =
        "A cell without a value is empty (null in Parquet), and the column of the same name with _missing says why.";

    /// <summary>The tables of every set that do not depend on its records.</summary>
    public static ImmutableArray<TableSchema> Fixed { get; } =
        [MeasureDefinitionsTable.Table.Schema, CodebookTable.Table.Schema, CodebookTable.Labels.Schema];

    /// <summary>The tables of records as CSV, in the order of a codebook; a table without a row or column is left out.</summary>
    public static ImmutableArray<TableSchema> Of(AnalysisColumns columns, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentNullException.ThrowIfNull(titles);
        var tables = ImmutableArray.CreateBuilder<TableSchema>();
        tables.Add(Table(Procedure, "The records that count",
            $"One row is one record. Sources, corrections and deletions are resolved. {Missing}",
            columns.Procedure.Select(column => Column(column, FieldDictionary.Procedure, titles))) with
        { Key = ["record_id"] });
        if (!columns.Attempt.IsEmpty)
            tables.Add(Table(Attempt, "The attempts of these records",
                $"One row is one attempt, rescue included, in order within its record. {Missing}",
                columns.Attempt.Select(column => Column(column, FieldDictionary.Attempt, titles))) with
            { Key = ["record_id", "attempt_no"], Refers = ToRecord });
        if (!columns.Trace.IsEmpty)
            tables.Add(Table(Trace, "What the monitor's traces of these records show",
                "One row is one record that has a trace. The samples themselves are not here.",
                columns.Trace.Select(column => Column(column, FieldDictionary.Procedure, titles))) with
            { Key = ["record_id"], Refers = ToRecord });
        tables.Add(Answers(columns.Measures));
        return tables.ToImmutable();
    }

    /// <summary>The same table as Parquet.</summary>
    public static TableSchema AsParquet(TableSchema table)
    {
        ArgumentNullException.ThrowIfNull(table);
        return table with
        {
            Path = $"parquet/{table.Name}.parquet",
            Name = table.Name + "_parquet",
            Refers = Parquet(table.Refers),
            // Definitions are a small table of words: they stand as CSV alone.
            RefersToo = table.RefersToo,
        };

        static TableReference? Parquet(TableReference? to) => to is null ? null : to with { Table = to.Table + "_parquet" };
    }

    private static TableReference ToRecord { get; } = new(["record_id"], Procedure, ["record_id"]);

    private static TableSchema Table(string name, string title, string description, IEnumerable<ColumnSchema> columns) =>
        new($"{name}.csv", title, description, [.. columns]) { DepartmentOnly = true };

    private static TableSchema Answers(ImmutableArray<string> measures) => Table(Measures,
        "What every measure says of every record",
        "One row is one record and measure, for measures that the record's source can answer. Sums of met, "
            + "eligible and missing over a month "
            + "are the counts of the report.",
        [
            new("record_id", ColumnType.Text, "The record.") { Required = true },
            new("measure", ColumnType.Text, "The measure, by its id in measure_definitions.") { Required = true, Allowed = measures },
            new("month", ColumnType.Month, "The month of the record's date.") { Required = true },
            new("eligible", ColumnType.YesNo,
                "Whether the record is in the denominator; no value where that, or the answer, is not known."),
            new("met", ColumnType.YesNo, "Whether it met the measure; no value where it is not eligible or missing, and for a quantity."),
            new("missing", ColumnType.YesNo, "Whether it might belong and cannot be judged. Missing is never no.") { Required = true },
            new("value", ColumnType.Number, "The value of a quantity, in the unit of measure_definitions."),
            new("why", ColumnType.Text, "The fields behind the measure without a value, each with its reason, where the record is missing; "
                + "unrecordable for a quantity that was too low to measure."),
        ]) with
    {
        Key = ["record_id", "measure"],
        Refers = ToRecord,
        RefersToo = new(["measure"], MeasureDefinitionsTable.Table.Schema.Name, ["measure"]),
    };

    private static ColumnSchema Column(AnalysisColumn column, string table, Titles titles)
    {
        var described = RecordSchemas.Column(column.Column, table);
        if (column.IsReason)
            return new(column.Name, ColumnType.Text,
                $"Why {column.Name[..^AnalysisColumn.Suffix.Length]} has no value; empty where it has one.")
            {
                Title = $"{(column.Column.Stored?.Field.Title ?? described.Title ?? column.Column.Name)}: why missing",
                Allowed = AnalysisReason.All,
            };
        var tooLow = $" {Field.TooLow}: too low to measure.";
        return described with
        {
            Description = described.Description.Contains(tooLow, StringComparison.Ordinal)
                ? described.Description.Replace(tooLow, $" Too low to measure: no value, and {AnalysisReason.Unrecordable} as the reason; "
                    + "such a reading lies below every threshold.", StringComparison.Ordinal)
                : described.Description,
            Minimum = column.Column.Stored is { Field.MayBeUnrecordable: true } low ? low.Field.Hard?.Minimum : described.Minimum,
            Labels = described.Allowed.IsEmpty ? [] : [.. described.Allowed.Select(value => table == FieldDictionary.Attempt
                ? titles.OfAttempt(column.Name, value) : titles.Level(column.Name, value))],
        };
    }
}
