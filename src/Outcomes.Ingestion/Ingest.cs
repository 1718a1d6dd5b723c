using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>A source to be read.</summary>
/// <param name="Name">Its name in the pipeline.</param>
/// <param name="Order">Its place in the order of sources.</param>
/// <param name="Path">Where the file is.</param>
/// <param name="File">How messages and tables call the file: as the pipeline writes it.</param>
/// <param name="Mapping">How its columns become fields.</param>
public sealed record SourceRequest(string Name, int Order, string Path, string File, SourceMapping Mapping);

/// <summary>A source that has been read: its place in the store and what reading it found.</summary>
/// <param name="Request">What was asked for.</param>
/// <param name="Stored">Its Parquet files.</param>
/// <param name="Manifest">Its manifest.</param>
/// <param name="ReadAnew">False when the store already held it.</param>
public sealed record IngestedSource(SourceRequest Request, StoredSource Stored, SourceManifest Manifest, bool ReadAnew)
{
    public string IndexPath => Path.Combine(Stored.Folder, Ingest.IndexFile);

    public string FindingsPath => Path.Combine(Stored.Folder, Ingest.FindingsFile);
}

/// <summary>
/// Reads sources into the store. What is stored is a function of the file's bytes, the mapping, the dictionary's fields and the
/// format version alone, and lies under the hash of those: a second run does no work twice, and a changed definition reads anew.
/// </summary>
public static class Ingest
{
    /// <summary>Changes whenever the same input would be stored otherwise.</summary>
    public const int FormatVersion = 2;

    internal const string IndexFile = "rows.bin";
    internal const string FindingsFile = "findings.bin";

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
        var header = SourceHeader.Read(file, request.File, request.Mapping.Table.Separator);
        var plan = RowPlan.Make(request.Mapping, dictionary, header.Headings, request.File);
        var definition = DefinitionHash(request.Mapping, plan);
        Directory.CreateDirectory(store);
        if (Known(store, definition, file.Length) && HashOf(file) is var hash && SourceManifest.TryRead(Folder(store, definition, hash)) is { } known)
            return Describe(request, known, Folder(store, definition, hash), readAnew: false);
        var temporary = Path.Combine(store, "new-" + Path.GetRandomFileName());
        Directory.CreateDirectory(temporary);
        try
        {
            file.Position = 0;
            var manifest = ReadInto(temporary, file, request, header, plan, blockSize);
            manifest.Write(temporary);
            var folder = Folder(store, definition, manifest.Sha256);
            Publish(temporary, folder);
            return Describe(request, manifest, folder, readAnew: true);
        }
        finally
        {
            if (Directory.Exists(temporary)) Directory.Delete(temporary, recursive: true);
        }
    }

    private static SourceManifest ReadInto(string folder, FileStream file, SourceRequest request, SourceHeader header, RowPlan plan, int blockSize)
    {
        file.Position = 0;
        var shared = new SharedPass(folder, request.File, header, plan, file, blockSize);
        using (shared)
        {
            // Two parts whatever the machine: the files must not depend on the number of cores.
            var workers = Enumerable.Range(0, file.Length > blockSize ? Workers : 1).Select(number => new Thread(() => shared.Work(number)) { IsBackground = true }).ToArray();
            shared.WorkerCount = workers.Length;
            foreach (var worker in workers) worker.Start();
            foreach (var worker in workers) worker.Join();
            shared.ThrowIfFailed();
            shared.Judge();
            FindingLog.Write(Path.Combine(folder, FindingsFile), shared.Findings);
        }

        return new SourceManifest
        {
            Length = file.Length,
            Sha256 = Convert.ToHexStringLower(shared.FileHash),
            Rows = shared.Rows,
            BlankRows = shared.BlankRows,
            Separator = header.Separator,
            RowsAreAttempts = plan.RowsAreAttempts,
            Headings = plan.Shown,
            Asked = plan.Screen.Asked,
            Checked = plan.Screen.Checked,
            Fields = [.. plan.Fields.Select(field => field.Name)],
            AttemptFields = [.. plan.AttemptFields.Select(field => field.Name)],
            Files = [.. Directory.EnumerateFiles(folder, "*.parquet").Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)],
        };
    }

    private static IngestedSource Describe(SourceRequest request, SourceManifest manifest, string folder, bool readAnew)
    {
        ImmutableArray<string> Files(string table) =>
            [.. manifest.Files.Where(name => name.StartsWith(table, StringComparison.Ordinal)).Select(name => Path.Combine(folder, name))];
        var stored = new StoredSource(request.Name, request.Order, folder)
        {
            Records = manifest.RowsAreAttempts ? [] : Files("rows-"),
            Attempts = manifest.RowsAreAttempts ? Files("rows-") : Files("attempts-"),
            RowsAreAttempts = manifest.RowsAreAttempts,
            Reasons = Files("reasons-"),
            ProcedureFields = manifest.RowsAreAttempts ? [] : [.. manifest.Fields],
            AttemptFields = manifest.RowsAreAttempts ? [.. manifest.Fields] : [.. manifest.AttemptFields],
        };
        return new IngestedSource(request, stored, manifest, readAnew);
    }

    private static FileStream Open(SourceRequest request)
    {
        try
        {
            return new FileStream(request.Path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Input, $"source `{request.Name}`: the file is missing or cannot be read; check the path in the pipeline", request.File);
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
    private static void Publish(string temporary, string folder)
    {
        if (Directory.Exists(folder) && SourceManifest.TryRead(folder) is null) Directory.Delete(folder, recursive: true);
        try
        {
            if (!Directory.Exists(folder)) Directory.Move(temporary, folder);
        }
        catch (IOException) when (Directory.Exists(folder))
        {
        }
    }

    private static string DefinitionHash(SourceMapping mapping, RowPlan plan)
    {
        var text = new StringBuilder().Append(FormatVersion).Append('\n').Append(mapping.Text).Append('\n');
        foreach (var field in plan.Fields.Concat(plan.AttemptFields))
            text.Append(field.Name).Append('|').Append(field.Type).Append('|').AppendJoin(',', field.Allowed).Append('|').Append(field.Unit).Append('|')
                .Append(field.Hard).Append('|').Append(field.Plausible).Append('|').Append(field.Required).Append('|').AppendJoin(',', field.Missing).Append('\n');
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())))[..16];
    }
}
