using System.Collections.Immutable;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;

namespace Outcomes.Measures.Sql;

/// <summary>Counts the values of quantities, one pass a quantity.</summary>
internal static class ValueQuery
{
    public static ValueResult Run(CountedRecords from, IReadOnlyList<Measure> asked, IReadOnlyList<string> strata)
    {
        var plans = asked.Where(measure => measure.Kind == MeasureKind.Quantity).Select(from.Measures.For).ToArray();
        var found = ImmutableArray.CreateBuilder<ValueRow>();
        foreach (var plan in plans.Where(plan => !plan.Variants.IsEmpty))
            found.AddRange(Read(from.Connection, Sql(from, plan, strata), plan.Measure.Id, strata, from.Scope));
        return new ValueResult(found.ToImmutable(), [.. plans.SelectMany(plan => plan.Lacking)],
            [.. plans.SelectMany(plan => plan.Assumptions)], []);
    }

    private static string Sql(CountedRecords counted, MeasureSql.Plan plan, IReadOnlyList<string> strata)
    {
        var notApplicable = counted.Rows.NotApplicable(counted.Measures.Cells(plan));
        var from = counted.Records.Build(plan.Names.Concat(strata).Append("event_date").Distinct(), Stage.Counted, notApplicable);
        var (eligible, value, tooLow) = counted.Measures.Quantity(plan, notApplicable);
        var levels = string.Concat(strata.Select((stratum, i) => $", {CountQuery.Level(counted.Scope.Get(stratum))} AS g{i}"));
        var groups = string.Concat(strata.Select((_, i) => $", g{i}"));
        var sets = string.Join(", ", strata.Select((_, i) => $"(month, value, low, g{i})").Prepend("(month, value, low)"));
        var grouping = strata.Count == 0 ? "0" : $"grouping({string.Join(", ", strata.Select((_, i) => $"g{i}"))})";
        return $"SELECT month, {grouping}, value, count(*), low{groups} FROM (SELECT month, CASE WHEN e = 2 AND l = 0 THEN v END AS value, "
            + $"e = 2 AND l = 1 AS low{groups} FROM (SELECT {CountQuery.Month} AS month, {eligible} AS e, {value} AS "
            + $"v, {tooLow} AS l{levels}"
            + $" FROM ({from}) WHERE event_date IS NOT NULL) WHERE e > 0) GROUP BY GROUPING SETS ({sets})";
    }

    private static IEnumerable<ValueRow> Read(DuckDBConnection connection, string sql, string id, IReadOnlyList<string> strata, Scope scope)
    {
        var rows = new List<(int Stratum, ValueRow Row)>();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            var stratum = CountQuery.Stratum(reader.GetInt64(1), strata.Count);
            var level = stratum < 0 ? CountRow.All : reader.IsDBNull(5 + stratum) ? CountRow.MissingLevel : reader.GetString(5 + stratum);
            rows.Add((stratum, new ValueRow(id, CountQuery.MonthOf(reader.GetInt32(0)), stratum < 0 ? CountRow.All : strata[stratum], level,
                reader.IsDBNull(2) ? null : reader.GetInt32(2), reader.GetInt64(3))
            { Unrecordable = reader.GetBoolean(4) }));
        }

        return rows.OrderBy(item => item.Stratum)
            .ThenBy(item => item.Stratum < 0 ? 0 : CountQuery.LevelOrder(item.Row.Level, scope.Get(strata[item.Stratum])))
            .ThenBy(item => item.Row.Level, StringComparer.Ordinal).ThenBy(item => item.Row.Month)
            .ThenBy(item => item.Row.Value ?? int.MaxValue).ThenBy(item => item.Row.Value is null).ThenBy(item => item.Row.Unrecordable)
            .Select(item => item.Row);
    }
}
