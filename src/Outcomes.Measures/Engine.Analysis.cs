using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Sql;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <content>The analysis set: tidy tables of the records that count and of what every measure says of them.</content>
public sealed partial class Engine
{
    /// <summary>Makes the tables of the analysis set; the other methods read them.</summary>
    public AnalysisColumns MakeAnalysis(IReadOnlyList<Measure> measures)
    {
        Check(measures, []);
        try
        {
            var exported = UserQuery.Columns(_connection, _records, _rows, _definitions.Scope);
            return new AnalysisTables(_counted, _collection).Make(measures, exported);
        }
        catch (DuckDBException e) when (e.Message.StartsWith("Out of Memory", StringComparison.Ordinal))
        {
            throw new Failure(ExitCode.Input, "these are too many records for the memory that the engine may use; "
                + "split the sources by period and export each part by itself");
        }
    }

    /// <summary>Writes a table of the analysis set as Parquet, compressed by Snappy.</summary>
    /// <param name="table">Its name.</param>
    /// <param name="file">Where to write it; one of <see cref="EngineOptions.Writable"/>.</param>
    public void WriteAnalysis(string table, string file) =>
        UserQuery.Copy(_connection, AnalysisTables.Ordered(table), file, "snappy, PARQUET_VERSION v1");

    /// <summary>The rows of a table of the analysis set, in the order of its key.</summary>
    public IEnumerable<object?[]> ReadAnalysis(string table)
    {
        using var command = _connection.CreateCommand();
        command.UseStreamingMode = true;
        command.CommandText = AnalysisTables.Ordered(table);
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            var row = new object?[reader.FieldCount];
            for (var i = 0; i < row.Length; i++)
                row[i] = reader.IsDBNull(i) ? null : reader.GetValue(i);
            yield return row;
        }
    }
}
