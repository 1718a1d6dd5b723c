using System.Buffers;
using System.Collections.Immutable;
using System.Text;
using CsvHelper;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Parsing;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Ingestion.Stripping;

/// <summary>A column left out of a copy, and why.</summary>
/// <param name="Name">Its place, and its heading where that identifies nobody.</param>
/// <param name="Reason">Why, as the end of a sentence.</param>
public sealed record StrippedColumn(string Name, string Reason);

/// <summary>What a copy without refused columns amounts to.</summary>
/// <param name="Columns">The columns left out, in the file's order.</param>
/// <param name="Unique">Columns kept in which hardly a value repeats: the key should be the only one.</param>
/// <param name="Rows">Rows written, the heading not counted.</param>
/// <param name="CutRows">Rows with more cells than headings: the cells beyond were left out.</param>
public sealed record StripResult(ImmutableArray<StrippedColumn> Columns, ImmutableArray<string> Unique, int Rows, int CutRows)
{
    /// <summary>
    /// Keys of a mapping's <c>table</c> that the original needed and the copy does not: it is UTF-8, with its headings in the first line.
    /// </summary>
    public ImmutableArray<string> Changed { get; init; } = [];
}

/// <summary>
/// Writes a copy of a file without the columns for which it would be refused: as CSV in UTF-8, whatever it was. The file is read twice, a
/// block at a time; the copy appears whole under its name, and never in the place of another file.
/// </summary>
public static class Strip
{
    private const int BlockSize = 4 * 1024 * 1024;

    private static readonly SearchValues<byte> Quoted = SearchValues.Create("\"\r\n"u8);

    /// <summary>Copies a file.</summary>
    /// <param name="path">The file.</param>
    /// <param name="file">Its name in messages.</param>
    /// <param name="copy">Where the copy goes; nothing may be there.</param>
    /// <param name="mapping">The mapping, for its separator, checked columns and what is read of the file; null where there is
    /// none yet.</param>
    /// <param name="dictionary">The dictionary that the mapping is written for.</param>
    /// <exception cref="Failure">The file cannot be read (exit 4); the copy's place is taken or cannot be written (exit 5).</exception>
    public static StripResult Write(string path, string file, string copy, SourceMapping? mapping, FieldDictionary dictionary)
    {
        file = ShownName.Of(file, "the file");
        if (Path.Exists(copy))
            throw new Failure(ExitCode.Output, "the copy's place is taken, and no file is ever overwritten; name another with --out");
        using var original = Open(path, file);
        using var text = StripText.Of(original, file, copy, mapping, dictionary);
        var (source, header) = (text.Text, text.Header);
        var plan = Plan(header.Headings, mapping, dictionary);
        var shown = ShownName.OfHeadings(header.Headings, plan.IsRead);
        var leftOut = Judge(source, file, header, plan, shown, out var evidence);
        var keep = Enumerable.Range(0, header.Headings.Length).Where(column => !leftOut.ContainsKey(column)).ToArray();
        if (keep.Length == 0) throw new Failure(ExitCode.Input, "every column would be left out, so there is nothing to copy", file);
        var (rows, cut) = Publish(copy, target => Copy(source, file, header, keep, target, SourceFormats.HasTypedCells(text.Format)));
        return new StripResult(
            [.. leftOut.Select(column => new StrippedColumn(ScreenFindings.Name(column.Key, shown), column.Value))],
            [.. keep.Where(evidence.IsUnique).Select(column => ScreenFindings.Name(column, shown))], rows, cut)
        {
            Changed = text.Changed,
        };
    }

    // With a mapping columns are searched as a run would; without one each is searched for everything, for none is known to be a
    // number or a key. What the mapping names and the file or the dictionary lacks is a run's business, not this copy's.
    private static ScreenPlan Plan(ImmutableArray<string> headings, SourceMapping? mapping, FieldDictionary dictionary)
    {
        var fields = headings.Select(heading => mapping?.Columns.FirstOrDefault(column => column.Column == heading) is { } column
            ? dictionary.Find(mapping.RowsTable, column.Field) : null).ToImmutableArray();
        return ScreenPlan.Of(fields, headings, mapping?.Checked ?? []);
    }

    private static SortedDictionary<int, string> Judge(
        Stream source, string file, SourceHeader header, ScreenPlan plan, ImmutableArray<string> shown, out ColumnEvidence evidence)
    {
        var all = new Sightings(plan.Asked.Length);
        var whole = new ColumnEvidence(plan.Asked.Length);
        var screen = new BlockScreen(plan, whole);
        var watched = plan.Watched(header.Headings);
        var betrayed = new bool[plan.Asked.Length];
        Each(source, file, header, (reader, line) =>
        {
            for (var i = 0; i < reader.FieldCount; i++)
                if (Strict.Trim(reader.GetSpan(i)) is { IsEmpty: false } cell) screen.Look(cell, i, 0, line);
            foreach (var (column, kind) in watched)
                if (!betrayed[column] && column < reader.FieldCount)
                    betrayed[column] = HeaderScreen.Betrays(kind, Strict.Trim(reader.GetSpan(column)));
        }, () =>
        {
            all.Add(screen.Found, 0);
            for (var i = 0; i < plan.Whole.Length; i++) whole.Add(i, screen.Values(i));
            screen.Reset();
        });
        evidence = whole;
        var left = new SortedDictionary<int, string>();
        for (var i = 0; i < header.Headings.Length; i++)
        {
            if (plan.Lifted[i].Heading) continue;
            if (HeaderScreen.IsAnIdentifier(header.Headings[i])) left[i] = "its heading is an identifier";
            else if (betrayed[i]) left[i] = HeaderScreen.NamesAnIdentifier(header.Headings[i])
                ? "its heading names a direct identifier"
                : "its heading names a person, and it holds what is no role or grade";
        }

        foreach (var ground in ScreenFindings.Grounds(all, whole, plan).Where(ground => ground.Column < shown.Length))
            left.TryAdd(ground.Column, $"it holds what looks like {IdentifierRules.What(ground.Rule)}");
        return left;
    }

    private static (int Rows, int Cut) Copy(Stream source, string file, SourceHeader header, int[] keep, Stream target, bool guard)
    {
        var (rows, cut) = (0, 0);
        var line = new ArrayBufferWriter<byte>();
        var separator = header.Separator is ';' or '\t' ? header.Separator : ',';
        foreach (var column in keep) Cell(line, Encoding.UTF8.GetBytes(header.Headings[column]), separator, column == keep[0]);
        End(line, target);
        Each(source, file, header, (reader, _) =>
        {
            rows++;
            if (reader.FieldCount > header.Headings.Length) cut++;
            foreach (var column in keep)
                if (column < reader.FieldCount)
                    Cell(line, guard ? StripText.Guarded(reader.GetSpan(column)) : reader.GetSpan(column), separator, column == keep[0]);
            End(line, target);
        }, () => { });
        return (rows, cut);
    }

    private static void Cell(ArrayBufferWriter<byte> line, ReadOnlySpan<byte> cell, char separator, bool first)
    {
        if (!first) line.Write([(byte)separator]);
        if (!cell.ContainsAny(Quoted) && !cell.Contains((byte)separator))
        {
            line.Write(cell);
            return;
        }

        line.Write("\""u8);
        foreach (var b in cell)
        {
            if (b == (byte)'"') line.Write("\""u8);
            line.Write([b]);
        }

        line.Write("\""u8);
    }

    private static void End(ArrayBufferWriter<byte> line, Stream target)
    {
        line.Write("\n"u8);
        target.Write(line.WrittenSpan);
        line.ResetWrittenCount();
    }

    private static void Each(Stream source, string file, SourceHeader header, Action<CsvReader, int> row, Action blockEnd)
    {
        source.Position = 0;
        using var blocks = new BlockReader(source, file, header.Separator, BlockSize);
        blocks.Skip(header.DataOffset);
        byte[] buffer = [];
        while (blocks.Next(ref buffer) is { } block)
        {
            using var reader = CsvReader.Create(block.Bytes, SourceHeader.Options(header.Separator));
            while (reader.Read())
                if (reader.FieldCount > 1 || !reader.IsEmpty(0))
                    row(reader, (int)reader.LineNumber + block.LinesBefore);
            blockEnd();
        }
    }

    private static FileStream Open(string path, string file)
    {
        try
        {
            return RegularFile.Open(path, file);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new Failure(ExitCode.Input, "the file is missing or cannot be read; check the path", file);
        }
    }

    private static T Publish<T>(string copy, Func<Stream, T> write)
    {
        var part = $"{copy}.{Path.GetRandomFileName()}.part";
        try
        {
            T result;
            using (var target = new FileStream(part, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16))
            {
                result = write(target);
                target.Flush(flushToDisk: true);
            }

            File.Move(part, copy, overwrite: false);
            return result;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output,
                "the copy cannot be written; name a place with --out where nothing stands and that can be written");
        }
        finally
        {
            File.Delete(part);
        }
    }
}
