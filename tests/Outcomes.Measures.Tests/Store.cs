using System.Collections.Immutable;
using DuckDB.NET.Data;
using Outcomes.Records;

namespace Outcomes.Tests;

/// <summary>A record store in a temporary folder, written by the engine itself.</summary>
public sealed class Store : IDisposable
{
    private readonly DirectoryInfo _root = Directory.CreateTempSubdirectory("outcomes-");
    private readonly string _folder;
    private readonly List<StoredSource> _sources = [];

    public Store(string folder = "store") => _folder = _root.CreateSubdirectory(folder).FullName;

    public IReadOnlyList<StoredSource> Sources => _sources;

    /// <summary>
    /// A source from SELECTs that give the collected columns; <c>row</c> and <c>line</c> are added where they are missing.
    /// </summary>
    public Store Add(string? records, string? attempts = null, string? reasons = null, FieldDictionary? dictionary = null)
    {
        var order = _sources.Count;
        _sources.Add(new StoredSource($"source{order}", order, _folder)
        {
            Records = Write(records, $"{order}-records.parquet", out var procedure),
            Attempts = Write(attempts, $"{order}-attempts.parquet", out var attempt),
            RowsAreAttempts = records is null,
            Reasons = Write(reasons, $"{order}-reasons.parquet", out _),
            ProcedureFields = Fields(dictionary, FieldDictionary.Procedure, procedure),
            AttemptFields = Fields(dictionary, FieldDictionary.Attempt, attempt),
        });
        return this;
    }

    public string File(string name) => Path.Combine(_folder, name);

    public void Dispose() => _root.Delete(recursive: true);

    private ImmutableArray<string> Write(string? select, string name, out string[] columns)
    {
        columns = [];
        if (select is null)
            return [];
        using var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = $"CREATE TABLE t AS {select}";
        command.ExecuteNonQuery();
        command.CommandText = "SELECT column_name FROM information_schema.columns WHERE table_name = 't' ORDER BY ordinal_position";
        using (var reader = command.ExecuteReader())
            while (reader.Read())
                columns = [.. columns, reader.GetString(0)];
        var keys = columns.Contains("row")
            ? ""
            : "CAST(row_number() OVER () - 1 AS INTEGER) AS \"row\", CAST(row_number() OVER () + 1 AS INTEGER) AS line, ";
        command.CommandText = $"COPY (SELECT {keys}* FROM t) TO '{File(name).Replace("'", "''")}' (FORMAT parquet)";
        command.ExecuteNonQuery();
        return [File(name)];
    }

    private static ImmutableHashSet<string> Fields(FieldDictionary? dictionary, string table, string[] columns) =>
        [.. (dictionary ?? FieldDictionary.Shipped).Of(table).Where(field => Column.Of(field).All(column => columns.Contains(column.Name)))
            .Select(field => field.Name)];
}
