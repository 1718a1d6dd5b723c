using System.Collections.Immutable;
using DuckDB.NET.Data;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>Base columns from the record store.</summary>
internal sealed class StoredBase(DuckDBConnection connection, Collection collection, DateOnly asOf) : IRecordBase
{
    private readonly ImmutableArray<StoredSource> _wide =
        [.. collection.Sources.Where(source => source is { RowsAreAttempts: false, Attempts.IsEmpty: false })];
    private readonly ImmutableArray<StoredSource> _own = [.. collection.Sources.Where(source => source.RowsAreAttempts)];
    private HashSet<CellKey>? _notApplicable;

    /// <summary>Whether any record or attempt row is set aside: without one, no join is written.</summary>
    public (bool Records, bool Attempts) SetAside { get; set; }

    public string Sql(IReadOnlyList<ScopeColumn> columns, Stage stage, IReadOnlyList<CellKey> notApplicable)
    {
        if (collection.RecordSources.IsEmpty)
            throw new InvalidOperationException("No source holds records.");
        var rollups = columns.Where(column => column.Rollup is not null).ToArray();
        var byRecordId = _own.Length > 0 && (rollups.Length > 0 || notApplicable.Any(cell => cell.Attempt > 0));
        var stored = columns.Where(column => column.Stored is not null).ToArray();
        var sql = string.Join(" UNION ALL ", collection.RecordSources.Select(source => Read(source, stored, byRecordId)));
        if (stage != Stage.Stored && SetAside.Records)
            sql = $"SELECT * FROM ({sql}) r ANTI JOIN set_aside_records s ON s.source = r.source AND s.\"row\" = r.\"row\"";
        var joins = "";
        var select = string.Concat(columns.Select(column => ", " + Column(column)));
        if (rollups.Length > 0)
            joins += Attempts.Joins(rollups, stage);
        if (notApplicable.Count > 0)
        {
            var reasons = Reasons.Joins(notApplicable);
            joins += reasons.Joins;
            select += reasons.Select;
        }

        return $"SELECT r.source, r.\"row\", r.line{select} FROM ({sql}) r{joins}";
    }

    public string? FieldWins(ScopeColumn column)
    {
        if (column.Stored is not { } stored)
            return null;
        var collecting = collection.RecordSources.Where(source => collection.Collects(source, stored.Field.Name))
            .Select(source => source.Order).ToArray();
        return collecting.Length == 0 ? null
            : collecting.Length == collection.RecordSources.Length ? "true"
            : $"source IN ({string.Join(", ", collecting)})";
    }

    public IReadOnlyList<CellKey> NotApplicable(IEnumerable<CellKey> cells)
    {
        _notApplicable ??= Reasons.Read(connection);
        return [.. cells.Distinct().Where(_notApplicable.Contains)];
    }

    public IReadOnlyList<int> CannotJudge(IReadOnlyList<string> columns) =>
        [.. collection.RecordSources.Where(source => collection.Lacking(source, columns).Length > 0).Select(source => source.Order)];

    private StoredAttempts Attempts => new(_wide, _own, SetAside.Attempts);

    public StoredReasons Reasons => new(collection.Sources, _own);

    private string Read(StoredSource source, IReadOnlyList<ScopeColumn> columns, bool recordId)
    {
        var cells = columns.Select(column => $", {Cell(source, column.Stored!)} AS {RecordsSql.BaseName(column)}");
        return $"SELECT {source.Order} AS source, \"row\", line{string.Concat(cells)}{(recordId ? ", record_id AS \"@record_id\"" : "")} "
            + $"FROM {Rows(source, columns)}";
    }

    // The join with what traces show is written only where some of it is asked for.
    private static string Rows(StoredSource source, IReadOnlyList<ScopeColumn> columns)
    {
        var traced = columns.Where(column => source.TraceFields.Contains(column.Stored!.Field.Name))
            .Select(column => column.Stored!.Name).Distinct().ToArray();
        return traced.Length == 0 || source.Summaries.IsEmpty
            ? Parquet(source.Records)
            : $"{Parquet(source.Records)} LEFT JOIN (SELECT \"row\" AS "
                + $"\"@row\"{string.Concat(traced.Select(name => ", " + Quote.Name(name)))} FROM {Parquet(source.Summaries)}) ON "
                + "\"@row\" = \"row\"";
    }

    private string Cell(StoredSource source, Column column)
    {
        var field = column.Field.Name;
        var value = source.TraceFields.Contains(field) && source.Summaries.IsEmpty ? "NULL"
            : source.ProcedureFields.Contains(field) ? Quote.Name(column.Name)
            : collection.Assumption(field) ?? "NULL";
        return $"CAST({value} AS {column.SqlType})";
    }

    private string Column(ScopeColumn column)
    {
        if (column.Name == Scope.AsOf)
            return $"DATE '{asOf:yyyy-MM-dd}' AS {Scope.AsOf}";
        var name = RecordsSql.BaseName(column);
        return column.Stored is not null ? $"r.{name}" : $"{Attempts.Cell(column)} AS {name}";
    }

    /// <summary>Every attempt row that counts; those in columns of a record share its fate.</summary>
    public string AttemptRows(IReadOnlyList<Column> columns)
    {
        var attempts = Attempts;
        var wide = _wide.IsEmpty ? null : attempts.Rows(_wide, columns, Stage.Counted, "record_id, ");
        if (wide is not null && SetAside.Records)
            wide = $"SELECT * FROM ({wide}) a ANTI JOIN set_aside_records s ON s.source = a.source AND s.\"row\" = a.\"row\"";
        var own = _own.IsEmpty ? null : attempts.Rows(_own, columns, Stage.Counted, "record_id, ");
        var none = string.Concat(columns.Select(column => $", CAST(NULL AS {column.SqlType}) AS {Quote.Name(column.Name)}"));
        return wide is null && own is null
            ? $"SELECT 0 AS source, 0 AS \"row\", '' AS record_id, 0 AS attempt_no{none} WHERE false"
            : string.Join(" UNION ALL ", new[] { wide, own }.OfType<string>());
    }

    public static string Parquet(IEnumerable<string> files) => $"read_parquet([{string.Join(", ", files.Select(Quote.Text))}])";
}
