using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>
/// Reads sources into the store. What is stored is a function of the file's bytes, the mapping, the dictionary's fields and the
/// format version alone, and lies under the hash of those: a second run does no work twice, and a changed definition reads anew.
/// </summary>
public static class Ingest
{
    /// <summary>Changes whenever the same input would be stored otherwise.</summary>
    public const int FormatVersion = 6;

    private const int BlockSize = 4 * 1024 * 1024;
    private const int Workers = 2;

    /// <summary>Reads a source, or finds it in the store.</summary>
    /// <param name="request">The source.</param>
    /// <param name="dictionary">The dictionary, local fields included.</param>
    /// <param name="store">The store's folder; made when it is not there.</param>
    /// <param name="blockSize">Bytes a block; figures do not depend on it (tests vary it).</param>
    /// <exception cref="Failure">The file is missing, unreadable or identifying (exit 4); the mapping does not fit it (exit 3).</exception>
    public static IngestedSource Read(SourceRequest request, FieldDictionary dictionary, string store, int blockSize = BlockSize)
    {
        request = request with { File = ShownName.OfFile(request.File, request.Order) };
        using var file = Open(request);
        var hasChanged = RegularFile.Watch(file);
        try
        {
            return Read(file, hasChanged, request, dictionary, store, blockSize);
        }
        catch (Exception e) when (e is not OutOfMemoryException && hasChanged())
        {
            // Whatever was found wrong then may be wrong only because the file was half written.
            throw RegularFile.Changed(request.File);
        }
    }

    private static IngestedSource Read(
        FileStream file, Func<bool> hasChanged, SourceRequest request, FieldDictionary dictionary, string store, int blockSize)
    {
        var table = request.Mapping.Table;
        // A mended file is one of ours, UTF-8 with commas, whatever its origin was.
        var format = request.Mends is null ? SourceFormats.Of(file, request.Mapping, request.File) : SourceFormat.Utf8;
        if (format != SourceFormat.Utf8) return ReadConverted(format, file, hasChanged, request, dictionary, store, blockSize);
        var header = request.Mends is null
            ? SourceHeader.Read(file, request.File, table.Separator, table.HeaderRow)
            : SourceHeader.Read(file, request.File, null);
        var plan = request.Mends is { } mends
            ? RowPlan.Make(request.Mapping, dictionary, MendedFile.OwnHeadings(header.Headings, request.File), request.File) with
            {
                Mends = mends
            }
            : RowPlan.Make(request.Mapping, dictionary, header.Headings, request.File);
        var definition = DefinitionHash(request.Mapping, plan);
        Directory.CreateDirectory(store);
        var into = new Into(request, dictionary, store, hasChanged);
        if (Known(store, definition, file.Length) && Stored(into, definition, HashOf(file)) is { } known)
            return known;
        return InNewFolder(into, temporary => (definition, ReadInto(temporary, file, request, header, plan, blockSize)));
    }

    // Everything but plain UTF-8 first becomes UTF-8 text, and then goes the one way that all text goes.
    private static IngestedSource ReadConverted(
        SourceFormat format, FileStream file, Func<bool> hasChanged, SourceRequest request, FieldDictionary dictionary, string store,
        int blockSize)
    {
        Directory.CreateDirectory(store);
        var hash = HashOf(file);
        var mapping = Hash(request.Mapping.Text);
        var into = new Into(request, dictionary, store, hasChanged);
        if (Remembered(store, hash, mapping) is { } headings
            && Stored(into, DefinitionHash(request.Mapping, RowPlan.Make(request.Mapping, dictionary, headings, request.File)), hash)
                is { } known)
            return known;

        return InNewFolder(into, temporary =>
        {
            var (text, conversion) = ConvertedText.Make(
                format, file, temporary, TableRequest.Mapped(request.File, request.Mapping, dictionary));
            using var closed = text;
            var header = SourceHeader.Read(text, request.File, conversion.Separator, conversion.HeaderRow);
            var plan = RowPlan.Make(request.Mapping, dictionary, header.Headings, request.File);
            var manifest = ReadInto(temporary, text, request, header, plan, blockSize, conversion);
            return (DefinitionHash(request.Mapping, plan), manifest with
            {
                Length = file.Length,
                Sha256 = hash,
                OutsideRows = header.OutsideRows + conversion.OutsideRows,
                Converted = true,
                Mapping = mapping,
            });
        });
    }

    private sealed record Into(SourceRequest Request, FieldDictionary Dictionary, string Store, Func<bool> HasChanged);

    // What the store holds of a source, when every byte is as it was left.
    private static IngestedSource? Stored(Into into, string definition, string hash)
    {
        var folder = Folder(into.Store, definition, hash);
        return Checksums.Hold(folder) && SourceManifest.TryRead(folder) is { } known
            ? Describe(into, known, folder, readAnew: false)
            : null;
    }

    private static IngestedSource InNewFolder(Into into, Func<string, (string Definition, SourceManifest Manifest)> read)
    {
        var store = into.Store;
        var temporary = Path.Combine(store, "new-" + Path.GetRandomFileName());
        Directory.CreateDirectory(temporary);
        try
        {
            var (definition, manifest) = read(temporary);
            if (into.HasChanged()) throw RegularFile.Changed(into.Request.File);
            manifest.Write(temporary);
            Checksums.Write(temporary);
            var folder = Folder(store, definition, manifest.Sha256);
            var damaged = Publish(temporary, folder);
            return Describe(into, manifest, folder, readAnew: true) with { WasDamaged = damaged };
        }
        finally
        {
            if (Directory.Exists(temporary)) Directory.Delete(temporary, recursive: true);
        }
    }

    // The headings of a file that was read with this mapping before: opening a workbook for them costs as much as reading it.
    private static ImmutableArray<string>? Remembered(string store, string hash, string mapping) =>
        Directory.EnumerateDirectories(store, "*-" + hash[..32]).Select(SourceManifest.TryRead)
            .FirstOrDefault(known => known?.Mapping == mapping)?.Headings;

    private static SourceManifest ReadInto(
        string folder, FileStream file, SourceRequest request, SourceHeader header, RowPlan plan, int blockSize,
        Conversion? conversion = null)
    {
        file.Position = 0;
        var shared = new SharedPass(folder, request.File, header, plan, file, blockSize, conversion?.Lines);
        using (shared)
        {
            // Two parts whatever the machine: the files must not depend on the number of cores.
            var workers = Enumerable.Range(0, file.Length > blockSize ? Workers : 1)
                .Select(number => new Thread(() => shared.Work(number)) { IsBackground = true }).ToArray();
            shared.WorkerCount = workers.Length;
            foreach (var worker in workers) worker.Start();
            foreach (var worker in workers) worker.Join();
            shared.ThrowIfFailed();
            shared.Judge();
            FindingLog.Write(Path.Combine(folder, IngestedSource.FindingsFile), [.. conversion?.Notes ?? [], .. shared.Findings]);
            if (plan.Mends is not null) OriginLines.Write(Path.Combine(folder, IngestedSource.OriginsFile), shared.Origins);
        }

        return new SourceManifest
        {
            Length = file.Length,
            Sha256 = Convert.ToHexStringLower(shared.FileHash),
            Rows = shared.Rows,
            BlankRows = shared.BlankRows,
            OutsideRows = header.OutsideRows + shared.OutsideRows,
            Separator = header.Separator,
            RowsAreAttempts = plan.RowsAreAttempts,
            RowsAreSamples = plan.Samples is not null,
            Headings = plan.Shown,
            Asked = plan.Screen.Asked,
            Withheld = shared.Withheld,
            Checked = plan.Screen.Checked,
            CheckedRules = [.. plan.Screen.CheckedRules.Select(rules => string.Join(' ', rules))],
            Fields = [.. plan.Fields.Select(field => field.Name)],
            AttemptFields = [.. plan.AttemptFields.Select(field => field.Name)],
            Files = [.. Directory.EnumerateFiles(folder, "*.parquet").Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)],
        };
    }

    private static IngestedSource Describe(Into into, SourceManifest manifest, string folder, bool readAnew)
    {
        var request = into.Request;
        ImmutableArray<string> Files(string table) =>
            [.. manifest.Files.Where(name => name.StartsWith(table, StringComparison.Ordinal)).Select(name => Path.Combine(folder, name))];
        var stored = new StoredSource(request.Name, request.Order, folder)
        {
            Records = manifest.RowsAreAttempts ? [] : Files("rows-"),
            Attempts = manifest.RowsAreAttempts ? Files("rows-") : Files("attempts-"),
            RowsAreAttempts = manifest.RowsAreAttempts,
            Mends = request.Mends?.Order,
            Reasons = Files("reasons-"),
            ProcedureFields = manifest.RowsAreAttempts ? [] : [.. manifest.Fields],
            AttemptFields = manifest.RowsAreAttempts ? [.. manifest.Fields] : [.. manifest.AttemptFields],
        };
        return new IngestedSource(request, stored, manifest, readAnew, into.Dictionary);
    }

    private static FileStream Open(SourceRequest request)
    {
        try
        {
            return RegularFile.Open(request.Path, request.File);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new Failure(ExitCode.Input,
                $"source `{request.Name}`: the file is missing or cannot be read; check the path in the pipeline", request.File);
        }
    }

    private static bool Known(string store, string definition, long length) =>
        Directory.EnumerateDirectories(store, definition + "-*").Any(folder => SourceManifest.TryRead(folder)?.Length == length);

    private static string HashOf(FileStream file)
    {
        file.Position = 0;
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }

    private static string Folder(string store, string definition, string sha256) => Path.Combine(store, $"{definition}-{sha256[..32]}");

    // Another run may have published the same folder meanwhile: both hold the same bytes, so either may stay.
    /// <returns>True where a damaged folder was in its place.</returns>
    private static bool Publish(string temporary, string folder)
    {
        var damaged = Directory.Exists(folder) && !Checksums.Hold(folder);
        if (damaged) Directory.Delete(folder, recursive: true);
        try
        {
            if (!Directory.Exists(folder)) Directory.Move(temporary, folder);
        }
        catch (IOException) when (Directory.Exists(folder))
        {
        }

        return damaged;
    }

    private static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))[..16];

    private static string DefinitionHash(SourceMapping mapping, RowPlan plan)
    {
        var text = new StringBuilder().Append(FormatVersion).Append('\n').Append(mapping.Text).Append('\n');
        foreach (var field in plan.Fields.Concat(plan.AttemptFields))
            text.Append(field.Name).Append('|').Append(field.Type).Append('|').AppendJoin(',', field.Allowed).Append('|')
                .Append(field.Unit).Append('|')
                .Append(field.Hard).Append('|').Append(field.Plausible).Append('|').Append(field.Required).Append('|')
                .AppendJoin(',', field.Missing).Append('\n');
        // Ranges and units of signals act on a value that no field of the plan stands for.
        if (plan.Samples is { } samples)
            foreach (var field in samples.Fields) text.Append("sample|").Append(field.Unit).Append('|').Append(field.Hard).Append('\n');
        if (plan.Mends is { } mends)
            text.Append("mends|").Append(mends.File).Append('|').AppendJoin('|', mends.Files).Append('\n');
        return Hash(text.ToString());
    }
}
