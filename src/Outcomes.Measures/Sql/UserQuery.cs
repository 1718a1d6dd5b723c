using System.Text.Json;
using DuckDB.NET.Data;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>A person's own SELECT over the records.</summary>
internal static class UserQuery
{
    public static QueryResult Run(DuckDBConnection connection, RecordsSql records, StoredBase rows, Scope scope, string sql)
    {
        RefuseAllButOneSelect(connection, sql);
        MakeViews(connection, records, rows, scope);
        try
        {
            using var command = connection.CreateCommand();
            command.CommandText = sql;
            using var reader = command.ExecuteReader();
            var found = new List<object?[]>();
            while (reader.Read())
                found.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.IsDBNull(i) ? null : reader.GetValue(i))]);
            return new QueryResult([.. Enumerable.Range(0, reader.FieldCount).Select(reader.GetName)], found);
        }
        catch (DuckDBException e)
        {
            throw new Failure(ExitCode.Usage, $"the query failed: {e.Message.Split('\n')[0]}");
        }
    }

    public static void Export(
        DuckDBConnection connection, RecordsSql records, StoredBase rows, Scope scope, string recordsFile, string attemptsFile)
    {
        MakeViews(connection, records, rows, scope);
        Execute(connection, $"COPY (SELECT * EXCLUDE (source, \"row\", line) FROM records ORDER BY record_id) TO {Quote.Text(recordsFile)} "
            + $"(FORMAT parquet, COMPRESSION zstd)");
        Execute(connection, $"COPY (SELECT * EXCLUDE (source, \"row\") FROM attempts ORDER BY record_id, "
            + $"attempt_no) TO {Quote.Text(attemptsFile)} (FORMAT parquet, COMPRESSION zstd)");
    }

    private static void MakeViews(DuckDBConnection connection, RecordsSql records, StoredBase rows, Scope scope)
    {
        var columns = scope.Columns.Select(column => column.Name).ToArray();
        Execute(connection, $"CREATE OR REPLACE VIEW records AS {records.Build(columns, Stage.Counted, [])}");
        Execute(connection, $"CREATE OR REPLACE VIEW records_as_recorded AS {records.Build(columns, Stage.Recorded, [])}");
        var attempts = scope.Dictionary.Of(FieldDictionary.Attempt).Where(field => field.Name is not ("record_id" or "attempt_no"))
            .SelectMany(field => Column.Of(field));
        Execute(connection, $"CREATE OR REPLACE VIEW attempts AS {rows.AttemptRows([.. attempts])}");
    }

    private static void RefuseAllButOneSelect(DuckDBConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT json_serialize_sql({Quote.Text(sql)})";
        using var tree = JsonDocument.Parse((string)command.ExecuteScalar()!, new JsonDocumentOptions { MaxDepth = 512 });
        if (tree.RootElement.GetProperty("error").GetBoolean())
            throw new Failure(ExitCode.Usage,
                $"the query cannot run: {tree.RootElement.GetProperty("error_message").GetString()}; write one SELECT");
        if (tree.RootElement.GetProperty("statements").GetArrayLength() != 1)
            throw new Failure(ExitCode.Usage, "the query holds several statements; write one SELECT");
    }

    private static void Execute(DuckDBConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
