using DuckDB.NET.Data;
using Outcomes.Measures.Conditions;

namespace Outcomes.Measures.Sql;

/// <summary>An engine that can read the named files and nothing else: no extension, no network, no setting to change.</summary>
internal static class LockedConnection
{
    public static DuckDBConnection Open(IEnumerable<string> files, int threads, int memoryLimitMegabytes)
    {
        var connection = new DuckDBConnection("DataSource=:memory:");
        try
        {
            connection.Open();
            using var command = connection.CreateCommand();
            // The order matters: paths cannot be allowed once access is off, nothing can be set once settings are locked.
            command.CommandText = $"""
                SET allowed_paths = [{string.Join(", ", files.Select(Quote.Text))}];
                SET autoinstall_known_extensions = false;
                SET autoload_known_extensions = false;
                SET allow_community_extensions = false;
                SET threads = {Math.Max(1, threads)};
                SET memory_limit = '{Math.Max(64, memoryLimitMegabytes)}MB';
                SET temp_directory = '';
                SET preserve_insertion_order = false;
                SET enable_external_access = false;
                SET lock_configuration = true;
                """;
            command.ExecuteNonQuery();
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }
}
