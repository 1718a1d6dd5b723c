using DuckDB.NET.Data;
using Outcomes.Measures.Conditions;

namespace Outcomes.Measures.Sql;

/// <summary>What a query over the records that count is made from.</summary>
/// <param name="Connection">Where it runs.</param>
/// <param name="Records">The records as SQL.</param>
/// <param name="Measures">The measures as SQL.</param>
/// <param name="Rows">The stored rows behind the records.</param>
/// <param name="Scope">The columns that it may name.</param>
internal sealed record CountedRecords(
    DuckDBConnection Connection, RecordsSql Records, MeasureSql Measures, StoredBase Rows, Scope Scope);
