using System.Collections.Immutable;
using System.Globalization;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>
/// The records of a month one by one: the flags that fire on them as recorded, values, and what the measures say of them.
/// </summary>
internal static class FlagQuery
{
    /// <summary>Records that count, in order of source and row, with flags and values as recorded, before any blanking.</summary>
    public static List<JudgedRecord> Run(DuckDBConnection connection, RecordsSql records, Definitions definitions,
        IReadOnlyList<Flag> flags, Func<Flag, IReadOnlyList<int>> skipped, IReadOnlyList<string> columns, Month month)
    {
        var shown = columns.Concat(flags.SelectMany(flag => flag.Shows)).Distinct().ToArray();
        var names = flags.SelectMany(flag => Expressions.Names(definitions.Condition(flag.When))).Concat(shown)
            .Concat(["record_id", "event_date"]).Distinct();
        var select = string.Concat(flags.Select(flag => $", {Fires(definitions, flag, skipped(flag))}"))
            + string.Concat(shown.Select(name => $", {Quote.Name(name)}"));
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT source, \"row\", record_id{select} FROM ({records.Build(names, Stage.Recorded, [])})"
            + $" WHERE event_date IS NOT NULL AND {CountQuery.Month} = {Index(month)} ORDER BY source, \"row\"";
        var tooLow = shown.Select(definitions.Scope.MayBeTooLow).ToArray();
        var found = new List<JudgedRecord>();
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            var fired = Enumerable.Range(0, flags.Count).Where(i => !reader.IsDBNull(3 + i) && reader.GetBoolean(3 + i)).ToImmutableArray();
            var values = Enumerable.Range(0, shown.Length).Where(i => !reader.IsDBNull(3 + flags.Count + i))
                .ToImmutableDictionary(i => shown[i], i => Text(reader.GetValue(3 + flags.Count + i), tooLow[i]));
            found.Add(new JudgedRecord(reader.GetInt32(0), reader.GetInt32(1),
                reader.IsDBNull(2) ? "" : reader.GetString(2), fired, values));
        }

        return found;
    }

    /// <summary>The answer of each measure, in their order, for each record of the month, by source and row, after blanking.</summary>
    public static Dictionary<(int Source, int Row), ImmutableArray<Answer>> Answers(
        DuckDBConnection connection, RecordsSql records, MeasureSql measures, StoredBase rows, IReadOnlyList<Measure> asked, Month month)
    {
        var plans = asked.Select(measures.For).ToArray();
        var notApplicable = rows.NotApplicable(plans.SelectMany(measures.Cells));
        var from = records.Build(plans.SelectMany(plan => plan.Names).Append("event_date").Distinct(), Stage.Counted, notApplicable);
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT source, "
            + $"\"row\"{string.Concat(plans.Select(plan => $", CAST({measures.Code(plan, notApplicable)} AS BIGINT)"))} FROM ({from})"
            + $" WHERE event_date IS NOT NULL AND {CountQuery.Month} = {Index(month)}";
        var answers = new Dictionary<(int, int), ImmutableArray<Answer>>();
        using var reader = command.ExecuteReader();
        while (reader.Read())
            answers[(reader.GetInt32(0), reader.GetInt32(1))] =
                [.. Enumerable.Range(0, plans.Length).Select(i => MeasureSql.Answer(reader.GetInt64(2 + i)))];
        return answers;
    }

    /// <summary>Attempt rows of records, by record id, in order of their numbers.</summary>
    public static ILookup<string, ImmutableDictionary<string, string>> Attempts(DuckDBConnection connection, StoredBase rows,
        IReadOnlyList<Column> columns, IReadOnlyCollection<(int Source, int Row, string Id)> records)
    {
        if (records.Count == 0)
            return Array.Empty<string>().ToLookup(id => id, _ => ImmutableDictionary<string, string>.Empty);
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT record_id, attempt_no{string.Concat(columns.Select(column => $", {Quote.Name(column.Name)}"))} FROM "
            + $"({rows.AttemptRows(columns)})"
            + $" WHERE record_id IN ({string.Join(", ", records.Select(record => Quote.Text(record.Id)))}) ORDER BY record_id, "
            + $"attempt_no, source, \"row\"";
        var found = new List<(string Id, ImmutableDictionary<string, string> Cells)>();
        using var reader = command.ExecuteReader();
        while (reader.Read())
            found.Add((reader.GetString(0), Enumerable.Range(0, columns.Count).Where(i => !reader.IsDBNull(2 + i))
                .Select(i => KeyValuePair.Create(columns[i].Name, Text(reader.GetValue(2 + i), columns[i].Field.MayBeUnrecordable)))
                .Append(KeyValuePair.Create("attempt_no", Text(reader.GetValue(1), false))).ToImmutableDictionary()));
        return found.ToLookup(row => row.Id, row => row.Cells);
    }

    /// <summary>A flag as an expression that is true or false; false in sources that cannot judge it.</summary>
    public static string Fires(Definitions definitions, Flag flag, IReadOnlyList<int> skipped)
    {
        var fires = $"({SqlText.Of(definitions.Condition(flag.When))}) IS TRUE";
        return skipped.Count == 0 ? fires : $"(source NOT IN ({string.Join(", ", skipped)}) AND {fires})";
    }

    public static string Index(Month month) => ((month.Year * 12) + month.Number - 1).ToString(CultureInfo.InvariantCulture);

    private static string Text(object value, bool mayBeTooLow) => value switch
    {
        int or double when mayBeTooLow && Convert.ToDouble(value, CultureInfo.InvariantCulture) == Field.TooLow =>
            JudgedRecord.Unrecordable,
        bool yes => yes ? "yes" : "no",
        DateOnly date => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        DateTime time => time.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        _ => Convert.ToString(value, CultureInfo.InvariantCulture) ?? "",
    };
}
