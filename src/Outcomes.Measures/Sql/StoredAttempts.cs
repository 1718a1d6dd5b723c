using System.Collections.Immutable;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>
/// Attempt rows. Those that stand in columns of a record belong to the record's row; those of a file of their own belong to
/// the record of the same key. Where a record has both, the newer source's count.
/// </summary>
internal sealed class StoredAttempts(ImmutableArray<StoredSource> wide, ImmutableArray<StoredSource> own, bool setAside)
{
    public string Joins(IReadOnlyList<ScopeColumn> rollups, Stage stage)
    {
        var joins = "";
        var columns = rollups.SelectMany(column => column.Rollup!.Columns).DistinctBy(column => column.Name).ToArray();
        var aggregates =
            string.Concat(rollups.Select(column => $", CAST({column.Rollup!.Aggregate} AS {column.SqlType}) AS {Quote.Name(column.Name)}"));
        if (wide.Length > 0)
            joins += $" LEFT JOIN (SELECT source, \"row\"{aggregates} FROM ({Rows(wide, columns, stage, "")}) GROUP BY source, \"row\") w"
                + " ON w.source = r.source AND w.\"row\" = r.\"row\"";
        if (own.Length > 0)
        {
            var rows = Rows(own, columns, stage, "record_id, ");
            // Until the ledger has spoken, two files may hold attempts of one record: the newer one's stand.
            if (own.Length > 1)
                rows = $"SELECT * FROM ({rows}) QUALIFY {Generation()} = max({Generation()}) OVER (PARTITION BY record_id)";
            joins += $" LEFT JOIN (SELECT record_id, max({Generation()}) AS source{aggregates} FROM ({rows}) GROUP BY record_id) o ON "
                + $"o.record_id = r.\"@record_id\"";
        }

        return joins;
    }

    // Mended rows are of the generation of the file that they came from: they add to its attempts and do not replace them.
    private string Generation()
    {
        var mended = own.Where(source => source.Mends is not null).ToArray();
        return mended.Length == 0
            ? "source"
            : $"CASE source{string.Concat(mended.Select(source => $" WHEN {source.Order} THEN {source.Mends}"))} ELSE source END";
    }

    public string Cell(ScopeColumn column)
    {
        var name = Quote.Name(column.Name);
        return (wide.Length, own.Length) switch
        {
            (0, 0) => $"CAST(NULL AS {column.SqlType})",
            (_, 0) => $"w.{name}",
            (0, _) => $"o.{name}",
            _ => $"CASE WHEN o.source > coalesce(w.source, -1) THEN o.{name} ELSE w.{name} END",
        };
    }

    /// <summary>The attempt rows themselves, with the key of their record's row (wide) or its record_id (own file).</summary>
    public string Rows(ImmutableArray<StoredSource> sources, IReadOnlyList<Column> columns, Stage stage, string key)
    {
        var sql = string.Join(" UNION ALL ", sources.Select(source =>
        {
            var cells = string.Concat(columns.Select(column => $", {Cell(source, column)} AS {Quote.Name(column.Name)}"));
            return $"SELECT {source.Order} AS source, \"row\", {key}attempt_no{cells} FROM {StoredBase.Parquet(source.Attempts)}";
        }));
        return stage != Stage.Stored && setAside
            ? $"SELECT * FROM ({sql}) a ANTI JOIN set_aside_attempts s ON s.source = a.source AND s.\"row\" = a.\"row\""
            : sql;
    }

    private static string Cell(StoredSource source, Column column) =>
        $"CAST({(source.AttemptFields.Contains(column.Field.Name) ? Quote.Name(column.Name) : "NULL")} AS {column.SqlType})";
}
