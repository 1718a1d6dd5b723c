using System.Collections.Immutable;
using DuckDB.NET.Data;
using Outcomes.Measures.Conditions;

namespace Outcomes.Measures.Sql;

/// <summary>
/// The records that count, after blanking, worked out once into a table of the engine. A report asks some sixty questions of them, and
/// for a department's records it costs more to plan the derived columns of each than to count.
/// </summary>
internal sealed class KeptRecords
{
    /// <summary>Rows up to which the table pays: for more, a query that reads few columns beats a table that holds all of them.</summary>
    public const long MostRows = 20_000;

    private const string Table = "kept_records";

    private readonly StoredReasons _reasons;
    private readonly ImmutableHashSet<string> _columns;

    private KeptRecords(StoredReasons reasons, ImmutableHashSet<string> columns) => (_reasons, _columns) = (reasons, columns);

    /// <summary>
    /// Makes the table, or null where a rule blanks the key, by which attempts are found. What is set aside later is not seen.
    /// </summary>
    /// <param name="connection">Where they are made.</param>
    /// <param name="records">The records as SQL.</param>
    /// <param name="reasons">Cells that say "not applicable".</param>
    /// <param name="columns">What the table holds; the key and the date must be among them.</param>
    public static KeptRecords? Make(
        DuckDBConnection connection, RecordsSql records, StoredReasons reasons, ImmutableHashSet<string> columns)
    {
        if (records.Blanks("record_id"))
            return null;
        using var command = connection.CreateCommand();
        command.CommandText = $"CREATE OR REPLACE TABLE {Table} AS SELECT source, \"row\", line, {Quote.Names(columns)} "
            + $"FROM ({records.Work(columns, Stage.Counted, [])})";
        command.ExecuteNonQuery();
        return new(reasons, columns);
    }

    /// <summary>As <see cref="RecordsSql.Build"/>; null where the table does not hold what is asked.</summary>
    public string? Sql(IReadOnlyList<string> columns, Stage stage, IReadOnlyList<CellKey> notApplicable)
    {
        if (stage != Stage.Counted || !columns.All(_columns.Contains))
            return null;
        var select = string.Concat(columns.Select(column => $", r.{Quote.Name(column)}"));
        if (notApplicable.Count == 0)
            return $"SELECT r.source, r.\"row\", r.line{select} FROM {Table} r";
        var (joins, masks) = _reasons.Joins(notApplicable);
        return $"SELECT r.source, r.\"row\", r.line{select}{masks} FROM (SELECT *, record_id AS \"@record_id\" FROM {Table}) r{joins}";
    }
}
