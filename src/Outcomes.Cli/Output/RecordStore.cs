using System.Diagnostics;
using Outcomes.Cli.Places;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Traces;
using Outcomes.Records;

namespace Outcomes.Cli.Output;

/// <summary>
/// The record store of one pipeline while a command uses it. Several may at once; what no current source needs is deleted only
/// by a command that finds itself alone, so that none loses what it is reading.
/// </summary>
public sealed class RecordStore : IDisposable
{
    private const string LockName = "in-use";

    // Deleting takes milliseconds; a command that holds the store alone for longer has been stopped there.
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    private readonly string _store;
    private FileStream? _lock;

    private RecordStore(string store, FileStream shared) => (_store, _lock) = (store, shared);

    /// <summary>Marks the store as in use; makes it when it is not there, and deletes what an interrupted command left in it.</summary>
    /// <exception cref="Failure">The store cannot be written (exit 5).</exception>
    public static RecordStore Use(string store)
    {
        try
        {
            Directory.CreateDirectory(store);
            var path = Path.Combine(store, LockName);
            if (Alone(store) is { } alone)
                using (alone)
                    foreach (var left in Directory.EnumerateDirectories(store).Where(IsHalfMade)) Directory.Delete(left, recursive: true);
            return new RecordStore(store, Shared(path));
        }
        catch (IOException e) when (FileLock.IsHeld(e))
        {
            throw new Failure(ExitCode.Output,
                $"another command has held the record store `{store}` for more than a minute; end it, then run again");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output,
                $"the record store `{store}` cannot be written; set `store:` in the pipeline to a folder that can");
        }
    }

    /// <summary>Deletes what no current source needs: older versions of files, other files' records, half-made folders.</summary>
    public void Sweep(IReadOnlyList<IngestedSource> sources, TraceSet? traces = null)
    {
        Dispose();
        if (Alone(_store) is not { } alone) return;
        using (alone)
        {
            var needed = sources.Concat(traces?.Traces ?? []).Select(source => source.Stored.Folder)
                .Concat(traces is null ? [] : [traces.Folder])
                .Select(Path.GetFullPath).ToHashSet(StringComparer.Ordinal);
            foreach (var folder in Directory.EnumerateDirectories(_store).Where(IsOurs)
                .Where(folder => !needed.Contains(Path.GetFullPath(folder))))
                Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Deletes the whole store of a pipeline. True when there was one.</summary>
    /// <exception cref="Failure">A run is using it (exit 5).</exception>
    public static bool Forget(string store)
    {
        if (!Directory.Exists(store)) return false;
        if (Alone(store) is not { } alone)
            throw new Failure(ExitCode.Output, $"the record store `{store}` is in use by a run; wait until it has ended");
        using (alone)
            foreach (var folder in Directory.EnumerateDirectories(store).Where(IsOurs))
                Directory.Delete(folder, recursive: true);
        PreviousRun.Forget(store);
        File.Delete(Path.Combine(store, LockName));
        if (!Directory.EnumerateFileSystemEntries(store).Any()) Directory.Delete(store);
        return true;
    }

    public void Dispose()
    {
        _lock?.Dispose();
        _lock = null;
    }

    // Another command holds it alone for the moment in which it deletes what no source needs.
    private static FileStream Shared(string path)
    {
        // No system lets a program wait for such a lock, so it is asked for again.
        for (var waited = Stopwatch.StartNew(); ; Thread.Sleep(20))
            try
            {
                return new FileStream(path, FileMode.OpenOrCreate, FileAccess.Read, FileShare.Read);
            }
            catch (IOException e) when (FileLock.IsHeld(e) && waited.Elapsed < Patience)
            {
            }
    }

    private static FileStream? Alone(string store)
    {
        try
        {
            return new FileStream(Path.Combine(store, LockName), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e) when (FileLock.IsHeld(e))
        {
            return null;
        }
    }

    // Only folders that reading made are ever deleted: a store may have been pointed at a folder that holds other things.
    private static bool IsOurs(string folder) =>
        File.Exists(Path.Combine(folder, SourceManifest.FileName)) || IsHalfMade(folder)
        || Path.GetFileName(folder).StartsWith(TraceTables.FolderPrefix, StringComparison.Ordinal);

    private static bool IsHalfMade(string folder) => Path.GetFileName(folder).StartsWith("new-", StringComparison.Ordinal);
}
