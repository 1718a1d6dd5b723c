using System.Collections.Immutable;

namespace Outcomes.Measures;

/// <summary>The answer to a query: column names and rows in the order that the query gives.</summary>
public sealed record QueryResult(ImmutableArray<string> Columns, IReadOnlyList<object?[]> Rows);
