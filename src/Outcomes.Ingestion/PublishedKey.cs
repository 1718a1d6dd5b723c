using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>A row of an earlier <c>case-key.csv</c>.</summary>
/// <param name="RecordId">The record.</param>
/// <param name="Kind">Why it came, as the file says it.</param>
public sealed record PublishedCase(string RecordId, string Kind);

/// <summary>Reads <c>case-key.csv</c> of an earlier run.</summary>
public static class PublishedKey
{
    private static readonly string[] Columns = ["case_id", "record_id", "kind"];

    /// <exception cref="Failure">The file is not such a table (exit 4).</exception>
    public static ImmutableArray<PublishedCase> Read(string path, string shown) =>
        [.. PublishedTable.Rows(path, Columns, () => NotOurs(shown))
            .Select(cells => new PublishedCase(FormulaGuard.Off(cells[1]), cells[2]))];

    private static Failure NotOurs(string shown) => new(ExitCode.Input,
        "the case key of an earlier month cannot be read, so it cannot be told which cases are new; restore it, or run that month again",
        shown);
}
