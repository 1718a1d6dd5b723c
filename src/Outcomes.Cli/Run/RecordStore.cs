using Outcomes.Ingestion;

namespace Outcomes.Cli.Run;

/// <summary>Housekeeping of the record store: records are kept no longer than a current source needs them.</summary>
public static class RecordStore
{
    /// <summary>Deletes what no current source needs: older versions of files and half-made folders over a day old.</summary>
    public static void Sweep(string store, IReadOnlyList<IngestedSource> sources)
    {
        var needed = sources.Select(source => Path.GetFullPath(source.Stored.Folder)).ToHashSet(StringComparer.Ordinal);
        foreach (var folder in Directory.EnumerateDirectories(store))
        {
            var name = Path.GetFileName(folder);
            var stale = name.StartsWith("new-", StringComparison.Ordinal)
                ? Directory.GetLastWriteTimeUtc(folder) < DateTime.UtcNow.AddDays(-1)
                : !needed.Contains(Path.GetFullPath(folder)) && IsOurs(folder);
            if (stale) Delete(folder);
        }
    }

    /// <summary>Deletes the whole store. True when there was one.</summary>
    public static bool Forget(string store)
    {
        if (!Directory.Exists(store)) return false;
        foreach (var folder in Directory.EnumerateDirectories(store))
            if (IsOurs(folder) || Path.GetFileName(folder).StartsWith("new-", StringComparison.Ordinal))
                Directory.Delete(folder, recursive: true);
        if (!Directory.EnumerateFileSystemEntries(store).Any()) Directory.Delete(store);
        return true;
    }

    private static bool IsOurs(string folder) => File.Exists(Path.Combine(folder, "source.json"));

    // Another run may be reading it at this moment: then it stays until the next good run.
    private static void Delete(string folder)
    {
        try
        {
            Directory.Delete(folder, recursive: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
        }
    }
}
