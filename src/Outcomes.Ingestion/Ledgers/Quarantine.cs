using System.Collections.Immutable;
using CsvHelper;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Ledgers;

/// <summary>A quarantined row as it was in its file.</summary>
/// <param name="Source">Index of its source.</param>
/// <param name="Row">0-based row in the source.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="Key">Its key, where it has one.</param>
/// <param name="Cells">Its cells as they were.</param>
public sealed record QuarantinedRow(int Source, int Row, int Line, string Key, ImmutableArray<string> Cells);

/// <summary>Fetches quarantined rows from their files, so that they can be mended and fed back.</summary>
public static class Quarantine
{
    /// <summary>The quarantined rows of one source, in file order.</summary>
    public static IEnumerable<QuarantinedRow> Rows(IngestedSource source, int index, Ledger ledger) =>
        ledger.Files[index].Quarantined == 0 ? [] : Rows(source, index, row => ledger.Of(index, row) == Fate.Quarantined);

    /// <summary>Wanted rows of one source with their cells as they were; the guard of a quarantine file that was fed back is off.</summary>
    internal static IEnumerable<QuarantinedRow> Rows(IngestedSource source, int index, Func<int, bool> wanted)
    {
        var guarded = source.Request.Mends is not null;
        using var file = SourceText.Open(source);
        foreach (var (row, line, offset, end, key) in Places(source, wanted))
        {
            file.Position = offset;
            var bytes = new byte[(int)Math.Min((end < 0 ? file.Length : end) - offset, BlockReader.MaximumRecord)];
            file.ReadExactly(bytes);
            using var reader = CsvReader.Create(bytes.AsMemory(), SourceHeader.Options(source.Manifest.Separator));
            if (reader.Read())
                yield return new QuarantinedRow(index, row, line, key, [.. Enumerable.Range(0, reader.FieldCount).Select(i =>
                    Kept(guarded ? FormulaGuard.Off(reader.GetString(i)) : reader.GetString(i),
                        Asked(source.Manifest, i, reader.FieldCount)))]);
        }
    }

    // What looks like an identifier does not travel on with the row, nor does a cell of a column that identifies as a whole (null).
    private static string Kept(string cell, Identifier? asked) =>
        asked is { } kinds && (Detect.In(cell, kinds) & ~IdentifierSets.Counted) == Identifier.None ? cell : "";

    // In a row with more or fewer cells than headings, a cell may belong to a column as far away as there are too many or too few.
    private static Identifier? Asked(SourceManifest manifest, int column, int cells)
    {
        var shift = Math.Abs(cells - manifest.Headings.Length);
        if (manifest.Withheld.Any(other => Math.Abs(other - column) <= shift)) return null;
        var asked = manifest.Asked[Math.Min(column, manifest.Asked.Length - 1)];
        return shift == 0 || column == 0 ? asked : asked | IdentifierSets.OfUnread;
    }

    private static IEnumerable<(int Row, int Line, long Offset, long End, string Key)> Places(IngestedSource source, Func<int, bool> wanted)
    {
        (int Row, int Line, long Offset, string Key)? waiting = null;
        var row = 0;
        foreach (var block in RowIndex.Read(source.IndexPath))
            for (var i = 0; i < block.Count; i++, row++)
            {
                if (waiting is var (before, line, offset, key)) yield return (before, line, offset, block.Offset[i], key);
                waiting = wanted(row)
                    ? (row, block.Line[i], block.Offset[i], System.Text.Encoding.UTF8.GetString(block.Key(i)))
                    : null;
            }

        if (waiting is var (last, lastLine, lastOffset, lastKey)) yield return (last, lastLine, lastOffset, -1, lastKey);
    }
}
