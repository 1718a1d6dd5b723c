using Outcomes.Measures.Catalogue;

namespace Outcomes.Measures.Sql;

/// <summary>
/// Counts the values of quantities. One query asks for all of them: planning the records' derived columns costs more than counting a
/// department's records, and is done once.
/// </summary>
internal static class ValueQuery
{
    public static ValueResult Run(CountedRecords from, IReadOnlyList<Measure> asked, IReadOnlyList<string> strata)
    {
        var plans = asked.Where(measure => measure.Kind == MeasureKind.Quantity).Select(from.Measures.For).ToArray();
        MeasureSql.Plan[] counted = [.. plans.Where(plan => !plan.Variants.IsEmpty)];
        return new ValueResult(counted.Length == 0 ? [] : [.. Read(from, counted, strata)], [.. plans.SelectMany(plan => plan.Lacking)],
            [.. plans.SelectMany(plan => plan.Assumptions)], []);
    }

    private static string Sql(CountedRecords counted, MeasureSql.Plan[] plans, IReadOnlyList<string> strata)
    {
        var notApplicable = counted.Rows.NotApplicable(plans.SelectMany(counted.Measures.Cells));
        var from = counted.Records.Build(plans.SelectMany(plan => plan.Names).Concat(strata).Append("event_date").Distinct(), Stage.Counted,
            notApplicable);
        var columns =
            string.Concat(plans.Select((plan, i) => counted.Measures.Quantity(plan, notApplicable) is var (eligible, value, tooLow)
                ? $", {eligible} AS e{i}, {value} AS v{i}, {tooLow} AS l{i}" : ""));
        var levels = string.Concat(strata.Select((stratum, i) => $", {CountQuery.Level(counted.Scope.Get(stratum))} AS g{i}"));
        var groups = string.Concat(strata.Select((_, i) => $", g{i}"));
        var sets = string.Join(", ", strata.Select((_, i) => $"(month, value, low, g{i})").Prepend("(month, value, low)"));
        var grouping = strata.Count == 0 ? "0" : $"grouping({string.Join(", ", strata.Select((_, i) => $"g{i}"))})";
        var quantities = plans.Select((_, i) => $"SELECT {i}, month, {grouping}, value, count(*), low{groups} FROM (SELECT month, "
            + $"CASE WHEN e{i} = 2 AND l{i} = 0 THEN v{i} END AS value, e{i} = 2 AND l{i} = 1 AS low{groups} FROM asked WHERE e{i} > 0) "
            + $"GROUP BY GROUPING SETS ({sets})");
        return $"WITH asked AS MATERIALIZED (SELECT {CountQuery.Month} AS month{columns}{levels} FROM ({from}) WHERE "
            + "event_date IS NOT NULL) "
            + string.Join(" UNION ALL ", quantities);
    }

    private static IEnumerable<ValueRow> Read(CountedRecords from, MeasureSql.Plan[] plans, IReadOnlyList<string> strata)
    {
        var rows = new List<(int Plan, int Stratum, ValueRow Row)>();
        using var command = from.Connection.CreateCommand();
        command.CommandText = Sql(from, plans, strata);
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            var (plan, stratum) = (reader.GetInt32(0), CountQuery.Stratum(reader.GetInt64(2), strata.Count));
            var level = stratum < 0 ? CountRow.All : reader.IsDBNull(6 + stratum) ? CountRow.MissingLevel : reader.GetString(6 + stratum);
            rows.Add((plan, stratum, new ValueRow(plans[plan].Measure.Id, CountQuery.MonthOf(reader.GetInt32(1)),
                stratum < 0 ? CountRow.All : strata[stratum], level, reader.IsDBNull(3) ? null : reader.GetInt32(3), reader.GetInt64(4))
            { Unrecordable = reader.GetBoolean(5) }));
        }

        return rows.OrderBy(item => item.Plan).ThenBy(item => item.Stratum)
            .ThenBy(item => item.Stratum < 0 ? 0 : CountQuery.LevelOrder(item.Row.Level, from.Scope.Get(strata[item.Stratum])))
            .ThenBy(item => item.Row.Level, StringComparer.Ordinal).ThenBy(item => item.Row.Month)
            .ThenBy(item => item.Row.Value ?? int.MaxValue).ThenBy(item => item.Row.Value is null).ThenBy(item => item.Row.Unrecordable)
            .Select(item => item.Row);
    }
}
