using System.Collections.Immutable;
using System.Globalization;
using CsvHelper;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>One row of a sample: its physical line and its cells, trimmed.</summary>
public readonly record struct SampleRow(int Line, ImmutableArray<string> Cells);

/// <summary>The headings and the first rows of an export, whatever its format: what a mapping is drafted from.</summary>
/// <param name="Headings">The headings, trimmed.</param>
/// <param name="Separator">The separator between cells; null where the format has none.</param>
/// <param name="Rows">Rows that are not blank and have as many cells as there are headings.</param>
/// <param name="Ragged">Rows left out because they have more or fewer.</param>
/// <param name="Truncated">True when the file goes on.</param>
public sealed record ExportSample(ImmutableArray<string> Headings, char? Separator, ImmutableArray<SampleRow> Rows, int Ragged, bool Truncated)
{
    private const int BlockSize = 1024 * 1024;

    /// <summary>Reads the headings and the first rows.</summary>
    /// <param name="path">Where the file is.</param>
    /// <param name="shown">Its name in messages.</param>
    /// <param name="most">Rows read at most.</param>
    /// <exception cref="Failure">The file is missing, empty or not text, or a heading is an identifier (exit 4).</exception>
    public static ExportSample Read(string path, string shown, int most = 50_000)
    {
        try
        {
            using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1);
            return ReadText(file, shown, most);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Input, "the file is missing or cannot be read; check the path", shown);
        }
    }

    private static ExportSample ReadText(FileStream file, string shown, int most)
    {
        var header = SourceHeader.Read(file, shown, null);
        var rows = ImmutableArray.CreateBuilder<SampleRow>();
        var ragged = 0;
        using var blocks = new BlockReader(file, shown, header.Separator, BlockSize);
        byte[] buffer = [];
        while (blocks.Next(ref buffer) is { } block)
        {
            var heading = (int)Math.Clamp(header.DataOffset - block.Offset, 0, block.Bytes.Length);
            var before = block.LinesBefore + RecordEnd.LineBreaks(block.Bytes.Span[..heading]);
            using var reader = CsvReader.Create(block.Bytes[heading..], SourceHeader.Options(header.Separator));
            while (reader.Read())
            {
                if (rows.Count == most) return new ExportSample(header.Headings, header.Separator, rows.DrainToImmutable(), ragged, true);
                ImmutableArray<string> cells = [.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i).Trim().Trim('\u00A0'))];
                if (cells.All(cell => cell.Length == 0)) continue;
                if (cells.Length != header.Headings.Length) ragged++;
                else rows.Add(new SampleRow(Convert.ToInt32(reader.LineNumber, CultureInfo.InvariantCulture) + before, cells));
            }
        }

        return new ExportSample(header.Headings, header.Separator, rows.DrainToImmutable(), ragged, false);
    }
}
