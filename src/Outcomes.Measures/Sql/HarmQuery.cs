using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;

namespace Outcomes.Measures.Sql;

/// <summary>
/// Records with each event of harm, month by month: every record that came in, whoever the patient, as recorded and before any rule blanks
/// a cell. The worst cases are the last that may drop out of a count.
/// </summary>
internal static class HarmQuery
{
    public static IReadOnlyList<HarmCount> Run(DuckDBConnection connection, RecordsSql records, Definitions definitions,
        IReadOnlyList<Flag> flags, Func<Flag, IReadOnlyList<int>> skipped)
    {
        string[] events = [.. flags.SelectMany(flag => flag.Harm).Distinct()];
        if (events.Length == 0)
            return [];
        var names = flags.Where(flag => !flag.Harm.IsEmpty).SelectMany(flag => Expressions.Names(definitions.Condition(flag.When)))
            .Append("event_date").Distinct();
        var counts = string.Concat(events.Select(Counted));
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT {CountQuery.Month} AS m, count(*){counts} FROM ({records.Build(names, Stage.Recorded, [])}) "
            + "WHERE event_date IS NOT NULL GROUP BY m ORDER BY m";
        var found = new List<HarmCount>();
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            for (var i = 0; i < events.Length; i++)
                found.Add(new(events[i], CountQuery.MonthOf(reader.GetInt32(0)), reader.GetInt64(2 + (2 * i)),
                    reader.GetInt64(3 + (2 * i)), reader.GetInt64(1)));
        }

        return found;

        // It happened where a flag fires; it is unknown where no flag can tell.
        string Counted(string harm)
        {
            string[] fire = [.. flags.Where(flag => flag.Harm.Contains(harm)).Select(Condition)];
            return $", count(*) FILTER (WHERE {string.Join(" OR ", fire.Select(each => $"({each}) IS TRUE"))})"
                + $", count(*) FILTER (WHERE {string.Join(" AND ", fire.Select(each => $"({each}) IS NULL"))})";
        }

        string Condition(Flag flag)
        {
            var condition = SqlText.Of(definitions.Condition(flag.When));
            var sources = skipped(flag);
            return sources.Count == 0 ? condition : $"CASE WHEN source NOT IN ({string.Join(", ", sources)}) THEN {condition} END";
        }
    }
}
