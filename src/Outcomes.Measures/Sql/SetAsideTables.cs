using DuckDB.NET.Data;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>The rows that the ledger set aside, as two small tables that queries leave out.</summary>
internal static class SetAsideTables
{
    /// <summary>Adds rows; says whether any were rows of records, and of attempts.</summary>
    public static (bool Records, bool Attempts) Add(DuckDBConnection connection, IEnumerable<SetAside> rows)
    {
        using var command = connection.CreateCommand();
        command.CommandText = """
            CREATE TABLE IF NOT EXISTS set_aside_records(source INTEGER, "row" INTEGER);
            CREATE TABLE IF NOT EXISTS set_aside_attempts(source INTEGER, "row" INTEGER);
            """;
        command.ExecuteNonQuery();
        var (records, attempts) = (false, false);
        using var toRecords = connection.CreateAppender("set_aside_records");
        using var toAttempts = connection.CreateAppender("set_aside_attempts");
        foreach (var row in rows)
        {
            (row.Attempts ? toAttempts : toRecords).CreateRow().AppendValue(row.Source).AppendValue(row.Row).EndRow();
            records |= !row.Attempts;
            attempts |= row.Attempts;
        }

        return (records, attempts);
    }
}
