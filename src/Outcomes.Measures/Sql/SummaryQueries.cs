using System.Collections.Immutable;
using System.Globalization;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>What a report says about the records beside its measures.</summary>
internal static class SummaryQueries
{
    /// <summary>The columns that tell how a record moved between plans.</summary>
    public static readonly ImmutableArray<string> Plans = ["attempt_path", "plan_a", "plan_b", "plan_c", "plan_d", "final_plan"];

    public static IReadOnlyList<MonthRecords> ByMonth(DuckDBConnection connection, RecordsSql records) =>
        Read(connection, $"SELECT {CountQuery.Month} AS m, "
            + $"count(*) FROM ({records.Build(["event_date"], Stage.Recorded, [])}) WHERE event_date IS NOT NULL GROUP BY m ORDER BY m",
            reader => new MonthRecords(CountQuery.MonthOf(reader.GetInt32(0)), reader.GetInt64(1)));

    public static IReadOnlyList<LevelCount> Levels(DuckDBConnection connection, RecordsSql records, string column, string? site)
    {
        var rows = records.Build(new[] { column, "event_date", site }.OfType<string>().Distinct(), Stage.Counted, []);
        var place = site is null ? "CAST(NULL AS VARCHAR)" : $"CAST({Quote.Name(site)} AS VARCHAR)";
        return Read(connection, $"SELECT {CountQuery.Month} AS m, CAST({Quote.Name(column)} AS VARCHAR) AS level, count(*), {place} AS "
            + $"place FROM ({rows}) WHERE event_date IS NOT NULL GROUP BY m, level, place ORDER BY m, level NULLS LAST, place NULLS LAST",
            reader => new LevelCount(CountQuery.MonthOf(reader.GetInt32(0)), Text(reader, 1), reader.GetInt64(2))
            {
                Site = Text(reader, 3)
            });
    }

    public static IReadOnlyList<AlikeRecord> Alike(DuckDBConnection connection, RecordsSql records, IReadOnlyList<string> fields)
    {
        var rows = records.Build(fields.Append("record_id").Distinct(), Stage.Counted, []);
        return Read(connection, $"SELECT source, line, "
            + $"record_id FROM ({rows}) WHERE {string.Join(" AND ", fields.Select(field => $"{Quote.Name(field)} IS NOT NULL"))}"
            + $" QUALIFY count(*) OVER (PARTITION BY {Quote.Names(fields)}) > 1 ORDER BY source, line",
            reader => new AlikeRecord(reader.GetInt32(0), reader.GetInt32(1), reader.GetString(2)));
    }

    public static IReadOnlyList<RecordQuantities> Quantities(
        DuckDBConnection connection, RecordsSql records, Scope scope, IReadOnlyList<string> fields)
    {
        var rows = records.Build(fields.Append("record_id").Distinct(), Stage.Counted, []);
        var values = string.Concat(fields.Select(field => $", CAST({scope.Measured(field)} AS DOUBLE)"));
        return Read(connection, $"SELECT source, line, record_id{values} FROM ({rows}) ORDER BY source, \"row\"",
            reader => new RecordQuantities(
                reader.GetInt32(0), reader.GetInt32(1), reader.GetString(2),
                [.. fields.Select((_, i) => reader.IsDBNull(3 + i) ? double.NaN : reader.GetDouble(3 + i))]));
    }

    public static IReadOnlyList<AgreementCount> Agreement(
        DuckDBConnection connection, RecordsSql records, Definitions definitions, AgreementPair pair, Month from, Month to)
    {
        var names = pair.Answers.SelectMany(answer => (string[])[answer.First, answer.Second])
            .SelectMany(condition => Expressions.Names(definitions.Condition(condition)));
        var rows = records.Build(names.Append("event_date").Distinct(), Stage.Recorded, []);
        return Read(connection, $"SELECT first, second, count(*) FROM (SELECT {Place(answer => answer.First)} AS first, "
            + $"{Place(answer => answer.Second)} AS second FROM ({rows}) WHERE {Period(from, to)}) "
            + "WHERE first IS NOT NULL AND second IS NOT NULL GROUP BY ALL ORDER BY ALL",
            reader => new AgreementCount(reader.GetInt32(0), reader.GetInt32(1), reader.GetInt64(2)));

        string Place(Func<AgreementAnswer, string> condition) => "CASE " + string.Join(" ", pair.Answers.Select((answer, i) =>
            $"WHEN {SqlText.Of(definitions.Condition(condition(answer)))} THEN {i}")) + " END";
    }

    /// <summary>The same summed over a period; a field without a record asked is listed too.</summary>
    public static IReadOnlyList<Completeness> Completeness(IReadOnlyList<MonthCompleteness> counted, IReadOnlyList<string> fields,
        Collection collection, Definitions definitions, (Month From, Month To) period)
    {
        var months = counted.Where(row => row.Month >= period.From && row.Month <= period.To).ToLookup(row => row.Field);
        return [.. fields.Where(field => IsCollected(collection, definitions, field))
            .Select(field => new Completeness(field, months[field].Sum(row => row.Known), months[field].Sum(row => row.Records)))];
    }

    public static IReadOnlyList<MonthCompleteness> CompletenessByMonth(DuckDBConnection connection, RecordsSql records,
        Collection collection, IReadOnlyList<string> fields, Definitions definitions)
    {
        var collected = fields.Where(field => IsCollected(collection, definitions, field))
            .Select(field => (Field: field, Column: definitions.Blanked(field)[0], Sources: Collecting(collection, field))).ToArray();
        if (collected.Length == 0)
            return [];
        // One row a source and plain counts: a filter on each count would cost more than reading the columns.
        var counts = string.Concat(collected.Select(item => $", count({Quote.Name(item.Column)})"));
        var rows = records.Build(collected.Select(item => item.Column).Append("event_date").Distinct(), Stage.Counted, []);
        var months =
            Read(connection, $"SELECT source, {CountQuery.Month} AS m, count(*){counts} FROM ({rows}) WHERE event_date IS NOT NULL "
                + $"GROUP BY source, m", reader => (Source: reader.GetInt32(0), Month: CountQuery.MonthOf(reader.GetInt32(1)),
                    Records: reader.GetInt64(2), Known: collected.Select((_, i) => reader.GetInt64(3 + i)).ToArray()));
        var notAsked = NotApplicable(connection, records, collection);
        return [.. collected.SelectMany((item, i) => months.Where(row => item.Sources.Contains(row.Source)).GroupBy(row => row.Month)
            .OrderBy(group => group.Key)
            .Select(group => new MonthCompleteness(item.Field, group.Key, group.Sum(row => row.Known[i]),
                group.Sum(row => row.Records - notAsked.GetValueOrDefault((row.Source, row.Month, item.Field)))))
            .Where(row => row.Records > 0))];
    }

    // A cell that says "not applicable" is answered: the question did not arise, so the record is not among those asked.
    private static Dictionary<(int Source, Month Month, string Field), long> NotApplicable(
        DuckDBConnection connection, RecordsSql records, Collection collection)
    {
        if (new StoredReasons(collection.Sources, []).RecordCells() is not { } cells)
            return [];
        var rows = records.Build(["event_date"], Stage.Counted, []);
        return Read(connection, $"SELECT n.source, {CountQuery.Month} AS m, n.field, count(*) FROM ({cells}) n JOIN "
            + $"({rows}) r ON r.source = n.source AND r.\"row\" = n.\"row\" WHERE event_date IS NOT NULL GROUP BY n.source, m, n.field",
            reader => (Key: (reader.GetInt32(0), CountQuery.MonthOf(reader.GetInt32(1)), reader.GetString(2)), N: reader.GetInt64(3)))
            .ToDictionary(row => row.Key, row => row.N);
    }

    // An assumed value is no answer of the record's.
    private static bool IsCollected(Collection collection, Definitions definitions, string field) =>
        definitions.Blanked(field).Length > 0 && Collecting(collection, field).Length > 0;

    public static IReadOnlyList<PlanPath> Paths(DuckDBConnection connection, RecordsSql records, Month from, Month to)
    {
        var rows = records.Build([.. Plans, "emergency", "event_date"], Stage.Counted, []);
        return Read(connection, $"SELECT {Quote.Names(Plans)}, count(*) FROM ({rows}) WHERE emergency AND {Period(from, to)} GROUP BY "
            + $"ALL ORDER BY ALL", reader => new PlanPath(Text(reader, 0), Text(reader, 1), Text(reader, 2), Text(reader, 3),
                Text(reader, 4), Text(reader, 5), reader.GetInt64(6)));
    }

    private static int[] Collecting(Collection collection, string field) =>
        [.. collection.RecordSources.Where(source => source.ProcedureFields.Contains(field)).Select(source => source.Order)];

    private static string? Text(DuckDBDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetString(column);

    private static string Period(Month from, Month to) =>
        $"event_date BETWEEN DATE '{from.FirstDay.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}' AND DATE "
            + $"'{to.LastDay.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}'";

    private static List<T> Read<T>(DuckDBConnection connection, string sql, Func<DuckDBDataReader, T> row)
    {
        var rows = new List<T>();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        using var reader = command.ExecuteReader();
        while (reader.Read())
            rows.Add(row(reader));
        return rows;
    }
}
