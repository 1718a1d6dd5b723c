using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>Why cells of records and attempts have no value, a column a field.</summary>
internal sealed class AnalysisReasons(CountedRecords counted, Collection collection)
{
    private readonly Scope _scope = counted.Scope;

    /// <summary>
    /// True where a column of records has a column of reasons: a field of a source, or one that may be too low to measure.
    /// </summary>
    /// <param name="column">The column.</param>
    /// <param name="traced">Fields that come from traces: what they lack, the whole row lacks.</param>
    public bool HasReason(ExportedColumn column, IReadOnlySet<string> traced)
    {
        ArgumentNullException.ThrowIfNull(column);
        return _scope.Find(column.Name) switch
        {
            null => false,
            { Stored: { Field: var field } } => !field.Required && !traced.Contains(field.Name) && Collecting(field).Length > 0,
            _ => _scope.MayBeTooLow(column.Name),
        };
    }

    /// <summary>True where a column of attempts has one.</summary>
    public static bool OfAttempt(ExportedColumn column) =>
        column.Stored is { Field.Required: false, Field.Name: not ("record_id" or "attempt_no") };

    /// <summary>The records that count with all their columns, and a column of reasons for each field of a source.</summary>
    public string Records(IReadOnlySet<string> traced)
    {
        Field[] fields = [.. _scope.Dictionary.Of(FieldDictionary.Procedure)
            .Where(field => !field.Required && !traced.Contains(field.Name) && Collecting(field).Length > 0)];
        var stored = fields.Select(field => $", {OfRecord(field)}");
        var handedOn = _scope.Columns.Where(column => column.Stored is null && _scope.MayBeTooLow(column.Name)).Select(column =>
            $", CASE WHEN c.{Quote.Name(column.Name)} = {Field.TooLow} THEN '{AnalysisReason.Unrecordable}' END AS {Named(column.Name)}");
        var pivot = string.Concat(fields.Select(field =>
            $", max(reason) FILTER (WHERE field = {Quote.Text(field.Name)}) AS {Quote.Name(field.Name)}"));
        return $"SELECT c.*{string.Concat(stored.Concat(handedOn))} FROM records c JOIN records_as_recorded w ON w.source = c.source AND "
            + $"w.\"row\" = c.\"row\" LEFT JOIN (SELECT source, \"row\"{pivot} FROM ({Cells(isAttempt: false)}) GROUP BY "
            + "source, \"row\") n "
            + "ON n.source = c.source AND n.\"row\" = c.\"row\"";
    }

    /// <summary>The attempts of these records, likewise.</summary>
    public string Attempts()
    {
        Field[] fields = [.. _scope.Dictionary.Of(FieldDictionary.Attempt).Where(field => !field.Required
            && field.Name is not ("record_id" or "attempt_no"))];
        var columns = fields.Select(field =>
        {
            var (cell, own) = ($"a.{Quote.Name(Column.Of(field)[0].Name)}", collection.Sources
                .Where(source => source.AttemptFields.Contains(field.Name)).Select(source => source.Order).ToArray());
            return $", CASE {TooLow(field, cell)}WHEN {cell} IS NOT NULL THEN NULL {Without("a", own)}ELSE "
                + $"coalesce(n.{Quote.Name(field.Name)}, "
                + $"'{AnalysisReason.Blank}') END AS {Named(field.Name)}";
        });
        var pivot = string.Concat(fields.Select(field =>
            $", max(reason) FILTER (WHERE field = {Quote.Text(field.Name)}) AS {Quote.Name(field.Name)}"));
        return $"SELECT a.*{string.Concat(columns)} FROM attempts a LEFT JOIN (SELECT source, \"row\", attempt_no{pivot} FROM "
            + $"({Cells(isAttempt: true)}) GROUP BY source, \"row\", attempt_no) n ON n.source = a.source AND n.\"row\" = a.\"row\" AND "
            + "n.attempt_no = a.attempt_no";
    }

    private string OfRecord(Field field)
    {
        var name = Quote.Name(Column.Of(field)[0].Name);
        return $"CASE {TooLow(field, "c." + name)}WHEN c.{name} IS NOT NULL THEN NULL WHEN w.{name} IS NOT NULL THEN "
            + $"'{AnalysisReason.Rule}' "
            + $"{Without("c", Collecting(field))}ELSE coalesce(n.{Quote.Name(field.Name)}, "
            + $"'{AnalysisReason.Blank}') END AS {Named(field.Name)}";
    }

    private static string TooLow(Field field, string cell) =>
        field.MayBeUnrecordable ? $"WHEN {cell} = {Field.TooLow} THEN '{AnalysisReason.Unrecordable}' " : "";

    private static string Without(string rows, int[] sources) =>
        $"WHEN {rows}.source NOT IN ({string.Join(", ", sources.DefaultIfEmpty(-1))}) THEN '{AnalysisReason.NotCollected}' ";

    private static string Named(string field) => Quote.Name(field + AnalysisColumn.Suffix);

    private int[] Collecting(Field field) =>
        [.. collection.RecordSources.Where(source => source.ProcedureFields.Contains(field.Name)).Select(source => source.Order)];

    private string Cells(bool isAttempt)
    {
        var parts = collection.Sources.Where(source => !source.Reasons.IsEmpty).Select(source =>
            $"SELECT {source.Order} AS source, \"row\", attempt_no, field, reason FROM {StoredBase.Parquet(source.Reasons)} WHERE tab "
                + $"{(isAttempt ? "=" : "<>")} '{FieldDictionary.Attempt}'").ToArray();
        return parts.Length > 0 ? string.Join(" UNION ALL ", parts)
            : "SELECT 0 AS source, 0 AS \"row\", 0 AS attempt_no, '' AS field, '' AS reason WHERE false";
    }
}

/// <summary>Which fields behind a measure have no value where a record cannot be judged, and why.</summary>
internal sealed class AnalysisWhy(Collection collection, IReadOnlySet<string> traced)
{
    /// <summary>An expression over the wide table: <c>sbp_min: not_recorded; sbp_pre: blank</c>.</summary>
    public string Of(MeasureSql.Plan plan)
    {
        string[] parts = [.. plan.Names.Distinct().SelectMany(name => collection.Behind([name])
            .Where(column => column.Stored is not null || column.Rollup is not null).SelectMany(column => Parts(name, column))).Distinct()];
        // A value can be there and not say what is asked, such as a view that nobody can grade: then what it was to be worked
        // out from stands.
        string[] names = [.. plan.Names.Distinct()
            .Select(name => $"CASE WHEN w.{Quote.Name(name)} IS NULL THEN {Quote.Text($"{name}: cannot be told")} END")];
        return parts.Length == 0 ? Joined(names) : $"coalesce(nullif({Joined(parts)}, ''), {Joined(names)})";

        static string Joined(string[] parts) =>
            parts.Length == 0 ? "''" : $"array_to_string(list_sort(list_distinct([{string.Join(", ", parts)}])), '; ')";
    }

    private IEnumerable<string> Parts(string name, ScopeColumn column)
    {
        var unknown = $"CASE WHEN w.{Quote.Name(name)} IS NULL AND w.{Quote.Name(column.Name)} IS NULL THEN ";
        if (column.Stored is not { Field: var field })
            return column.Rollup!.Columns.IsEmpty ? [$"{unknown}'attempts: no row' END"]
                : column.Rollup.Columns.Select(attempt => $"{unknown}{Quote.Text($"attempts.{attempt.Field.Name}: no answer")} END");
        if (field.Required)
            return [];
        var isCollected = collection.RecordSources.Any(source => source.ProcedureFields.Contains(field.Name));
        return [traced.Contains(field.Name) ? $"{unknown}{Quote.Text($"{field.Name}: no trace")} END"
            : !isCollected ? $"{unknown}{Quote.Text($"{field.Name}: {AnalysisReason.NotCollected}")} END"
            : $"{unknown}{Quote.Text($"{field.Name}: ")} || coalesce(w.{Quote.Name(field.Name + AnalysisColumn.Suffix)}, "
                + $"'{AnalysisReason.Blank}') END"];
    }
}
