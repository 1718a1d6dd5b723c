using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Reporting.Tables;

/// <summary>The normalised records and their attempts, described from the dictionary and the definitions that made them.</summary>
public static partial class RecordSchemas
{
    public const string Records = "data/records.parquet";

    public const string Attempts = "data/attempts.parquet";

    private const string Missing =
        "A cell without a value is null, whatever the reason: the words for missing values that an export may hold "
            + "are not kept here, nor is the reason.";

    /// <summary>Both tables; a column that nothing describes is an error.</summary>
    public static ImmutableArray<TableSchema> Of(ExportedColumns exported)
    {
        ArgumentNullException.ThrowIfNull(exported);
        return
        [
            new(Records, "The records that count, with their derived columns",
                $"One row is one record. Sources, corrections and deletions are resolved. {Missing} A cell that a consistency rule "
                    + $"blanks is null too.",
                [.. exported.Records.Select(column => Column(column, FieldDictionary.Procedure))])
            {
                DepartmentOnly = true,
                Key = ["record_id"],
                LostWords = Words(exported.Records),
            },
            new(Attempts, "The attempts of these records",
                $"One row is one attempt, rescue included, in order within its record. {Missing}",
                [.. exported.Attempts.Select(column => Column(column, FieldDictionary.Attempt))])
            {
                DepartmentOnly = true,
                Key = ["record_id", "attempt_no"],
                Refers = new(["record_id"], "records", ["record_id"]),
                LostWords = Words(exported.Attempts),
            },
        ];
    }

    private static ImmutableArray<MissingToken> Words(ImmutableArray<ExportedColumn> columns) =>
        [.. columns.SelectMany(column => column.Stored?.Field.Missing ?? []).Where(token => token.Reason != MissingReason.Unrecordable)
            .DistinctBy(token => token.Word)];

    /// <summary>A column of records or attempts, described from the field or definition that made it.</summary>
    internal static ColumnSchema Column(ExportedColumn column, string table) => column switch
    {
        { Stored: { } stored } => Field(column, stored, table),
        { Derived: { } derived } => Derived(column, derived),
        _ => RolledUp(column),
    };

    private static ColumnSchema Field(ExportedColumn column, Column stored, string table)
    {
        var field = stored.Field;
        var own = field.Table == table;
        var said = field.Description;
        if (stored.Value is { } value)
            said += $" This column: whether {value} is among the answers; null where there is no answer.";
        if (field.Type == FieldType.Time)
            said += " In minutes after midnight.";
        if (field.MayBeUnrecordable)
            said += $" {Outcomes.Records.Field.TooLow}: too low to measure.";
        if (own && column.Name != stored.Name)
            said += $" As the source holds it; {stored.Name} is this, or worked out where the source does not collect it.";
        if (!own)
            said = $"Of attempt {column.Name["attempt".Length]}: {said}";
        return new(column.Name, Type(column), said)
        {
            Title = column.Title,
            Unit = field.Type == FieldType.Time ? "min" : field.Unit,
            Required = own && field.Required,
            Minimum = field.MayBeUnrecordable ? Outcomes.Records.Field.TooLow : field.Hard?.Minimum,
            Maximum = field.Hard?.Maximum,
            Allowed = field.Type == FieldType.Code ? field.Allowed : [],
        };
    }

    private static ColumnSchema Derived(ExportedColumn column, DerivedColumn derived) =>
        new(column.Name, Type(column), derived.Why.Length > 0
            ? Blanks().Replace(derived.Why, " ").Trim()
            : "Worked out from other columns.")
        {
            Title = column.Title.Length > 0 ? column.Title : null,
            Allowed = column.Allowed,
            Sql = Blanks().Replace(derived.Sql, " ").Trim(),
        };

    private static ColumnSchema RolledUp(ExportedColumn column)
    {
        var (said, unit) = RollupWording.Describe(column.Name);
        return new(column.Name, Type(column), said) { Title = column.Title.Length > 0 ? column.Title : null, Unit = unit };
    }

    private static ColumnType Type(ExportedColumn column) => column.SqlType switch
    {
        "BOOLEAN" => ColumnType.YesNo,
        "INTEGER" => ColumnType.Integer,
        "DOUBLE" => ColumnType.Number,
        "DATE" => ColumnType.Date,
        "VARCHAR" => ColumnType.Text,
        _ => throw new InvalidOperationException(
            $"The column {column.Name} of the export has the type {column.SqlType}, which has no word."),
    };

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blanks();
}
