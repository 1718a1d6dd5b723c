using System.Text.Json;
using DuckDB.NET.Data;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>A person's own SELECT over the records.</summary>
internal static class UserQuery
{
    // Each row is held in memory.
    private const int MaximumRows = 2_000_000;

    // What the engine says of these speaks of the query's own words; of other errors it can quote a value.
    private static readonly string[] OfTheQuery = ["Parser Error", "Binder Error", "Catalog Error", "Permission Error"];

    public static QueryResult Run(
        DuckDBConnection connection, RecordsSql records, StoredBase rows, Scope scope, string sql, TimeSpan patience)
    {
        RefuseAllButOneSelect(connection, sql);
        MakeViews(connection, records, rows, scope);
        var late = false;
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        using var watch = new Timer(_ =>
        {
            Volatile.Write(ref late, true);
            command.Cancel();
        }, null, patience, Timeout.InfiniteTimeSpan);
        try
        {
            return Read(command);
        }
        catch (Exception e) when (e is DuckDBException or OperationCanceledException && Volatile.Read(ref late))
        {
            throw new Failure(ExitCode.Usage, FormattableString.Invariant(
                $"the query took longer than {patience.TotalSeconds} s and was stopped; look for a recursion or join without an end, ")
                + "or allow it more with --seconds");
        }
        catch (DuckDBException e)
        {
            throw new Failure(ExitCode.Usage, $"the query failed: {Said(e.Message)}");
        }
    }

    private static QueryResult Read(DuckDBCommand command)
    {
        using var reader = command.ExecuteReader();
        var found = new List<object?[]>();
        while (reader.Read())
        {
            if (found.Count == MaximumRows)
                throw new Failure(ExitCode.Usage,
                    "the answer has more than 2,000,000 rows; count or group them, or take a part of them with LIMIT");
            found.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => Value(reader, i))]);
        }

        return new QueryResult([.. Enumerable.Range(0, reader.FieldCount).Select(reader.GetName)], found);
    }

    private static object? Value(DuckDBDataReader reader, int column)
    {
        try
        {
            return reader.IsDBNull(column) ? null : reader.GetValue(column);
        }
        catch (Exception e) when (e is not (DuckDBException or OutOfMemoryException))
        {
            // Endless dates, intervals of months, unions, decimals of 38 digits: the library has no type of ours for them.
            throw new Failure(ExitCode.Usage,
                $"column {column + 1} of the answer holds a value of a type that cannot be shown; write CAST(... AS VARCHAR)");
        }
    }

    private static string Said(string message)
    {
        var line = message.Split('\n')[0];
        if (Array.Exists(OfTheQuery, kind => line.StartsWith(kind, StringComparison.Ordinal))) return line;
        return line.Split(':')[0] + "; a value does not allow what the query does with it (TRY_CAST, NULLIF and LIMIT help)";
    }

    public static ExportedColumns Export(
        DuckDBConnection connection, RecordsSql records, StoredBase rows, Scope scope, string recordsFile, string attemptsFile)
    {
        var columns = Columns(connection, records, rows, scope);
        Copy(connection, "SELECT * EXCLUDE (source, \"row\", line) FROM records ORDER BY record_id", recordsFile, "zstd");
        Copy(connection, "SELECT * EXCLUDE (source, \"row\") FROM attempts ORDER BY record_id, attempt_no", attemptsFile, "zstd");
        return columns;
    }

    /// <summary>Makes the views that a query sees, and gives the columns of records and attempts.</summary>
    public static ExportedColumns Columns(DuckDBConnection connection, RecordsSql records, StoredBase rows, Scope scope)
    {
        MakeViews(connection, records, rows, scope);
        var attempts = scope.Dictionary.Of(FieldDictionary.Attempt).SelectMany(field => Column.Of(field))
            .ToDictionary(column => column.Name);
        return new(
            [.. Columns(connection, "records", ["source", "row", "line"]).Select(column => Recorded(column, scope))],
            [.. Columns(connection, "attempts", ["source", "row"]).Select(column =>
                column with { Stored = attempts[column.Name], Title = attempts[column.Name].Title })]);
    }

    /// <summary>Writes the answer of a query as Parquet.</summary>
    public static void Copy(DuckDBConnection connection, string sql, string file, string compression)
    {
        try
        {
            Execute(connection, $"COPY ({sql}) TO {Quote.Text(file)} (FORMAT parquet, COMPRESSION {compression})");
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
        using var tree = Parsed((string)command.ExecuteScalar()!);
        if (tree.RootElement.GetProperty("error").GetBoolean())
            throw new Failure(ExitCode.Usage,
                $"the query cannot run: {tree.RootElement.GetProperty("error_message").GetString()}; write one SELECT");
        if (tree.RootElement.GetProperty("statements").GetArrayLength() != 1)
            throw new Failure(ExitCode.Usage, "the query holds several statements; write one SELECT");
    }

    private static JsonDocument Parsed(string tree)
    {
        try
        {
            return JsonDocument.Parse(tree, new JsonDocumentOptions { MaxDepth = 512 });
        }
        catch (JsonException)
        {
            throw new Failure(ExitCode.Usage,
                "the query is nested too deeply, or holds a number beyond 1.8e308; split it, or write such a number as 'inf'::DOUBLE");
        }
    }

    private static void Execute(DuckDBConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
