using System.Collections.Immutable;
using System.Globalization;
using DuckDB.NET.Data;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>Cells that say "not applicable": few, so they are joined only where a measure names their field.</summary>
internal sealed class StoredReasons(ImmutableArray<StoredSource> sources, ImmutableArray<StoredSource> own)
{
    /// <summary>Every field, of the record or of attempt 1 or 2, that says so anywhere.</summary>
    public HashSet<CellKey> Read(DuckDBConnection connection)
    {
        var found = new HashSet<CellKey>();
        if (Rows("") is not { } rows)
            return found;
        using var command = connection.CreateCommand();
        command.CommandText =
            $"SELECT DISTINCT CASE WHEN tab = '{FieldDictionary.Attempt}' THEN attempt_no ELSE 0 END, field FROM ({rows})";
        using var reader = command.ExecuteReader();
        while (reader.Read())
            found.Add(new CellKey(Convert.ToInt32(reader.GetValue(0), CultureInfo.InvariantCulture), reader.GetString(1)));
        return found;
    }

    /// <summary>Joins that give the masks, and their select list.</summary>
    public (string Joins, string Select) Joins(IReadOnlyList<CellKey> cells)
    {
        var masks = Enumerable.Range(0, RecordsSql.MaskCount(cells.Count)).ToArray();
        var bits = string.Concat(masks.Select(mask => $", bit_or({Bit(cells, mask)}) AS na{mask}"));
        var byRow = Rows("");
        var joins = $" LEFT JOIN (SELECT source, \"row\"{bits} FROM ({byRow}) GROUP BY source, "
            + "\"row\") n ON n.source = r.source AND n.\"row\" = r.\"row\"";
        if (own.Length == 0 || cells.All(cell => cell.Attempt == 0))
            return (joins, string.Concat(masks.Select(mask => $", n.na{mask}")));
        var attempts = string.Join(" UNION ALL ",
            own.Select(source => $"SELECT {source.Order} AS source, \"row\", record_id FROM {StoredBase.Parquet(source.Attempts)}"));
        joins += $" LEFT JOIN (SELECT a.record_id{bits} FROM ({Rows($" AND tab = '{FieldDictionary.Attempt}'")}) x JOIN ({attempts}) a"
            + " ON a.source = x.source AND a.\"row\" = x.\"row\" GROUP BY a.record_id) m ON m.record_id = r.\"@record_id\"";
        return (joins, string.Concat(masks.Select(mask => $", coalesce(n.na{mask}, 0) | coalesce(m.na{mask}, 0) AS na{mask}")));
    }

    /// <summary>SELECT of <c>source, row, field</c>, one row a cell of a record that says so; null where none does.</summary>
    public string? RecordCells() => Rows($" AND tab <> '{FieldDictionary.Attempt}'");

    private string? Rows(string condition)
    {
        var parts = sources.Where(source => !source.Reasons.IsEmpty).Select(source =>
            $"SELECT {source.Order} AS source, tab, \"row\", attempt_no, field FROM {StoredBase.Parquet(source.Reasons)} WHERE reason = "
                + $"'not_applicable'{condition}").ToArray();
        return parts.Length == 0 ? null : string.Join(" UNION ALL ", parts);
    }

    private static string Bit(IReadOnlyList<CellKey> cells, int mask)
    {
        var branches = cells.Skip(mask * 60).Take(60).Select((cell, i) =>
        {
            var place = cell.Attempt == 0
                ? $"tab <> '{FieldDictionary.Attempt}'"
                : $"tab = '{FieldDictionary.Attempt}' AND attempt_no = {cell.Attempt}";
            return $" WHEN {place} AND field = {Quote.Text(cell.Field)} THEN {1L << i}";
        });
        return $"CAST(CASE{string.Concat(branches)} ELSE 0 END AS BIGINT)";
    }
}
