using System.Text;
using DuckDB.NET.Data;

namespace Outcomes.Measures.Conditions;

/// <summary>A condition to parse: its text, and whether it may use what only shipped derived columns may.</summary>
internal sealed record Source(string Text, bool Shipped);

internal static class ConditionParser
{
    /// <summary>
    /// Parses all texts with one query, so that a catalogue costs a few milliseconds; a text that is wrong has its error in its place.
    /// </summary>
    public static IReadOnlyList<(Expression? Tree, ConditionError? Error)> Parse(DuckDBConnection connection, IReadOnlyList<Source> sources)
    {
        if (sources.Count == 0)
            return [];
        var sql = new StringBuilder("SELECT i, json_serialize_sql('SELECT (' || chr(10) || t || chr(10) || ')') FROM (VALUES ");
        sql.AppendJoin(", ", sources.Select((source, i) => $"({i}, {Quote.Text(HasNul(source) ? "" : source.Text)})"));
        sql.Append(") v(i, t)");
        var results = new (Expression?, ConditionError?)[sources.Count];
        using var command = connection.CreateCommand();
        command.CommandText = sql.ToString();
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            var i = reader.GetInt32(0);
            results[i] = HasNul(sources[i])
                ? (null, new ConditionError("it holds a NUL character; remove it"))
                : Read(reader.GetString(1), sources[i].Shipped);
        }

        return results;
    }

    // The engine takes it for the end of the query.
    private static bool HasNul(Source source) => source.Text.Contains('\0', StringComparison.Ordinal);

    private static (Expression?, ConditionError?) Read(string json, bool shipped)
    {
        try
        {
            return (SyntaxTree.Read(json, shipped), null);
        }
        catch (ConditionError error)
        {
            return (null, error);
        }
    }
}
