using System.Collections.Immutable;
using CsvHelper;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>Reads a table that an earlier run wrote, which a person may have opened and saved since.</summary>
internal static class PublishedTable
{
    /// <summary>Its rows without the heading, each with as many cells as there are columns.</summary>
    /// <exception cref="Failure">What <paramref name="notOurs"/> makes, where the file is missing or is not such a table.</exception>
    public static ImmutableArray<string[]> Rows(string path, string[] columns, Func<Failure> notOurs)
    {
        try
        {
            using var csv = CsvReader.Create(File.ReadAllBytes(path).AsMemory(), SourceHeader.Options(','));
            var rows = ImmutableArray.CreateBuilder<string[]>();
            var heading = true;
            while (csv.Read())
            {
                string[] cells = [.. Enumerable.Range(0, csv.FieldCount).Select(csv.GetString)];
                if (heading ? !cells.SequenceEqual(columns) : cells.Length != columns.Length)
                    throw notOurs();
                if (!heading) rows.Add(cells);
                heading = false;
            }

            return rows.ToImmutable();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw notOurs();
        }
    }
}
