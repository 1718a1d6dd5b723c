using System.Collections.Immutable;
using CsvHelper;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>A row of an earlier <c>case-key.csv</c>.</summary>
/// <param name="RecordId">The record.</param>
/// <param name="Kind">Why it came, as the file says it.</param>
public sealed record PublishedCase(string RecordId, string Kind);

/// <summary>Reads <c>case-key.csv</c> of an earlier run.</summary>
public static class PublishedKey
{
    /// <exception cref="Failure">The file is not such a table (exit 4).</exception>
    public static ImmutableArray<PublishedCase> Read(string path, string shown)
    {
        try
        {
            using var csv = CsvReader.Create(File.ReadAllBytes(path).AsMemory(), SourceHeader.Options(','));
            var rows = ImmutableArray.CreateBuilder<PublishedCase>();
            var heading = true;
            while (csv.Read())
            {
                string[] cells = [.. Enumerable.Range(0, csv.FieldCount).Select(csv.GetString)];
                if (cells.Length != 3 || (heading && !cells.SequenceEqual(["case_id", "record_id", "kind"])))
                    throw NotOurs(shown);
                if (!heading) rows.Add(new PublishedCase(FormulaGuard.Off(cells[1]), cells[2]));
                heading = false;
            }

            return rows.ToImmutable();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw NotOurs(shown);
        }
    }

    private static Failure NotOurs(string shown) => new(ExitCode.Input,
        "the case key of an earlier month cannot be read, so it cannot be told which cases are new; restore it, or run that month again", shown);
}
