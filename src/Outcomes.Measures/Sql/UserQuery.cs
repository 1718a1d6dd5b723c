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

    public static ExportedColumns Export(
        DuckDBConnection connection, RecordsSql records, StoredBase rows, Scope scope, string recordsFile, string attemptsFile)
    {
        MakeViews(connection, records, rows, scope);
        Copy(connection, "SELECT * EXCLUDE (source, \"row\", line) FROM records ORDER BY record_id", recordsFile);
        Copy(connection, "SELECT * EXCLUDE (source, \"row\") FROM attempts ORDER BY record_id, attempt_no", attemptsFile);
        var attempts = scope.Dictionary.Of(FieldDictionary.Attempt).SelectMany(field => Column.Of(field))
            .ToDictionary(column => column.Name);
        return new(
            [.. Columns(connection, "records", ["source", "row", "line"]).Select(column => Recorded(column, scope))],
            [.. Columns(connection, "attempts", ["source", "row"]).Select(column =>
                column with { Stored = attempts[column.Name], Title = attempts[column.Name].Title })]);
    }

    private static void Copy(DuckDBConnection connection, string sql, string file)
    {
        try
        {
            Execute(connection, $"COPY ({sql}) TO {Quote.Text(file)} (FORMAT parquet, COMPRESSION zstd)");
        }
        catch (DuckDBException e) when (e.Message.Contains("IO Error", StringComparison.Ordinal))
        {
            // The engine's word for a disk that is full or refuses.
            throw new IOException("The engine could not write its file.", e);
        }
    }

    private static List<ExportedColumn> Columns(DuckDBConnection connection, string view, string[] without)
    {
        using var command = connection.CreateCommand();
        command.CommandText = $"DESCRIBE {view}";
        using var reader = command.ExecuteReader();
        var columns = new List<ExportedColumn>();
        while (reader.Read())
            if (!without.Contains(reader.GetString(0)))
                columns.Add(new ExportedColumn(reader.GetString(0), reader.GetString(1)));
        return columns;
    }

    // A field travels under a name of its own where a derived column has the same.
    private static ExportedColumn Recorded(ExportedColumn column, Scope scope)
    {
        if (scope.Find(column.Name) is not { } known)
            return scope.Columns.FirstOrDefault(other => RecordsSql.BaseName(other) == Quote.Name(column.Name))
                is { Stored: { } stored } own
                ? column with { Stored = stored, Title = stored.Title, Allowed = own.Allowed }
                : throw new InvalidOperationException($"The export has a column {column.Name} that no definition names.");
        return column with
        {
            Title = known.Derived?.Title ?? known.Stored?.Title ?? known.Rollup?.Title ?? "",
            Stored = known.Derived is null
                ? known.Stored ?? (known.Rollup?.Columns is [var only] && IsOfOneAttempt(known.Name, only) ? only : null)
                : null,
            Derived = known.Derived,
            Allowed = known.Allowed,
        };
    }

    private static bool IsOfOneAttempt(string name, Column column) =>
        name == $"attempt1_{column.Name}" || name == $"attempt2_{column.Name}";

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
