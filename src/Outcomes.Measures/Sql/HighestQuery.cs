using System.Globalization;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>Records by the highest flag that fires on them: the first by tier and catalogue, those about data apart.</summary>
internal sealed class HighestQuery(DuckDBConnection connection, RecordsSql records, Definitions definitions, IReadOnlyList<Flag> flags,
    Func<Flag, IReadOnlyList<int>> skipped)
{
    /// <summary>Records that count in the months before one, by month and highest flag, in the order of both.</summary>
    public List<HighestCount> Before(Month month)
    {
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT month, highest, COUNT(*) FROM ({Judged($"{CountQuery.Month} < {FlagQuery.Index(month)}")}) WHERE "
            + $"highest >= 0 GROUP BY ALL ORDER BY ALL";
        var found = new List<HighestCount>();
        using var reader = command.ExecuteReader();
        while (reader.Read())
            found.Add(new HighestCount(CountQuery.MonthOf(reader.GetInt32(0)), reader.GetInt32(1), reader.GetInt64(2)));
        return found;
    }

    /// <summary>The records of some months on which a flag fires, in the order of month and key.</summary>
    public List<HighestRecord> In(IReadOnlyCollection<Month> months)
    {
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT month, record_id, "
            + $"highest FROM ({Judged($"{CountQuery.Month} IN ({string.Join(", ", months.Select(FlagQuery.Index))})")})"
            + " WHERE highest >= 0 AND record_id IS NOT NULL ORDER BY ALL";
        var found = new List<HighestRecord>();
        using var reader = command.ExecuteReader();
        while (reader.Read())
            found.Add(new HighestRecord(CountQuery.MonthOf(reader.GetInt32(0)), reader.GetString(1), reader.GetInt32(2)));
        return found;
    }

    private string Judged(string which)
    {
        var judged = flags.Index().Where(item => item.Item.Tier != Tier.Data).OrderBy(item => item.Item.Tier).ToArray();
        var cases = string.Concat(judged.Select(item => $" WHEN {FlagQuery.Fires(definitions, item.Item, skipped(item.Item))} "
            + $"THEN {item.Index.ToString(CultureInfo.InvariantCulture)}"));
        var names = judged.SelectMany(item => Expressions.Names(definitions.Condition(item.Item.When)))
            .Concat(["record_id", "event_date"]).Distinct();
        return $"SELECT {CountQuery.Month} AS month, record_id, {(judged.Length == 0 ? "-1" : $"CASE{cases} ELSE -1 END")} AS highest FROM "
            + $"({records.Build(names, Stage.Recorded, [])}) WHERE event_date IS NOT NULL AND {which}";
    }
}
