using System.Collections.Immutable;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>A made-up record: SQL literals by column, and the cells that say "not applicable".</summary>
internal sealed record ExampleRow(IReadOnlyDictionary<string, string> Cells, IReadOnlyList<CellKey> NotApplicable)
{
    public static ExampleRow Read(Scope scope, IReadOnlyDictionary<string, string> given, string file, int line)
    {
        var cells = new Dictionary<string, string>(StringComparer.Ordinal);
        var notApplicable = new List<CellKey>();
        foreach (var (name, value) in given)
        {
            var set = scope.Dictionary.Find(FieldDictionary.Procedure, name) is { Type: FieldType.Set } field ? field : null;
            var column = scope.Find(name);
            if (set is null && column is null)
                throw Failure.Definition(file, line, "example: " + TypeCheck.Unknown(name, scope).Message);
            if (value == "not_applicable" && !(column?.Allowed.Contains(value) ?? false))
                notApplicable.Add(Key(name, set, column) ?? throw Failure.Definition(file, line,
                    $"example: `{name}` comes from other columns and cannot be not_applicable itself"));
            else if (set is not null)
                foreach (var item in Column.Of(set))
                    cells[item.Name] = Items(set, value, file, line).Contains(item.Value!) ? "true" : "false";
            else
                cells[name] = Literal(scope, column!, value)
                    ?? throw Failure.Definition(file, line, $"example: `{value}` is no value of `{name}`");
        }

        return new ExampleRow(cells, notApplicable);
    }

    private static CellKey? Key(string name, Field? set, ScopeColumn? column) =>
        set is not null ? new CellKey(0, set.Name)
        : column!.Stored is { } stored ? new CellKey(0, stored.Field.Name)
        : column.Rollup is { Columns: [var only] }
            && name.StartsWith("attempt1_", StringComparison.Ordinal) ? new CellKey(1, only.Field.Name)
        : column.Rollup is { Columns: [var second] }
            && name.StartsWith("attempt2_", StringComparison.Ordinal) ? new CellKey(2, second.Field.Name)
        : null;

    private static string[] Items(Field set, string value, string file, int line)
    {
        var items = value.Split([',', ';', ' '], StringSplitOptions.RemoveEmptyEntries);
        foreach (var item in items)
            if (!set.Allowed.Contains(item))
                throw Failure.Definition(file, line, $"example: `{item}` is no value of `{set.Name}`");
        return items;
    }

    private static string? Literal(Scope scope, ScopeColumn column, string value)
    {
        if (value == JudgedRecord.Unrecordable && scope.MayBeTooLow(column.Name))
            return Field.TooLow.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var type = column.SqlType switch
        {
            "BOOLEAN" => FieldType.YesNo,
            "INTEGER" when column.Stored?.Field.Type == FieldType.Time && value.Contains(':', StringComparison.Ordinal) => FieldType.Time,
            "INTEGER" => FieldType.Integer,
            "DOUBLE" => FieldType.Number,
            "DATE" => FieldType.Date,
            _ => column.Allowed.IsDefaultOrEmpty ? FieldType.Text : FieldType.Code,
        };
        return Collection.Literal(new Field(column.Name, FieldDictionary.Procedure, type, "", "")
        { Allowed = column.Allowed.IsDefault ? [] : column.Allowed }, value);
    }
}

/// <summary>Base columns from made-up records. A derived column may be given directly; then it is not worked out.</summary>
internal sealed class ExampleBase(ImmutableArray<ExampleRow> rows) : IRecordBase
{
    /// <summary>One source that collects every field.</summary>
    public static Collection Everything(Scope scope) => new(scope,
        [new StoredSource("examples", 0, "")
        {
            Records = [""],
            Attempts = [""],
            ProcedureFields = [.. scope.Dictionary.Of(FieldDictionary.Procedure).Select(field => field.Name)],
            AttemptFields = [.. scope.Dictionary.Of(FieldDictionary.Attempt).Select(field => field.Name)],
        }], ImmutableDictionary<string, string>.Empty);

    public string Sql(IReadOnlyList<ScopeColumn> columns, Stage stage, IReadOnlyList<CellKey> notApplicable)
    {
        var masks = Enumerable.Range(0, RecordsSql.MaskCount(notApplicable.Count)).ToArray();
        // A row a given cell, turned into a row a record: a table of all columns would be nearly empty and slow to read.
        var cells = rows.SelectMany((row, i) => row.Cells.Select(cell => $"({i}, {Quote.Text(cell.Key)}, CAST({cell.Value} AS VARCHAR))")
            .Concat(masks.Select(mask => $"({i}, 'na{mask}', '{Mask(row, notApplicable, mask)}')")).Prepend($"({i}, '', NULL)"));
        return "SELECT 0 AS source, i AS \"row\", 0 AS "
            + $"line{string.Concat(columns.Select(column => $", {Pivot(column.Name, column.SqlType)} AS {RecordsSql.BaseName(column)}"))}"
            + $"{string.Concat(masks.Select(mask => $", {Pivot($"na{mask}", "BIGINT")} AS na{mask}"))} FROM "
            + $"(VALUES {string.Join(", ", cells)}) v(i, k, c) GROUP BY i";
    }

    public string? FieldWins(ScopeColumn column) =>
        rows.Any(row => row.Cells.ContainsKey(column.Name)) ? $"{RecordsSql.BaseName(column)} IS NOT NULL" : null;

    public IReadOnlyList<CellKey> NotApplicable(IEnumerable<CellKey> cells) =>
        [.. cells.Distinct().Where(cell => rows.Any(row => row.NotApplicable.Contains(cell)))];

    public IReadOnlyList<int> CannotJudge(IReadOnlyList<string> columns) => [];

    private static string Pivot(string cell, string type) => $"max(CASE WHEN k = {Quote.Text(cell)} THEN CAST(c AS {type}) END)";

    private static long Mask(ExampleRow row, IReadOnlyList<CellKey> cells, int mask) =>
        cells.Skip(mask * 60).Take(60).Select((cell, i) => row.NotApplicable.Contains(cell) ? 1L << i : 0).Aggregate(0L, (a, b) => a | b);
}
