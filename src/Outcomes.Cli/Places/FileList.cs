using System.Collections.Immutable;
using Outcomes.Ingestion.Store;

namespace Outcomes.Cli.Places;

/// <summary>A file of a folder, by what it holds.</summary>
/// <param name="Path">Its path from the folder, with forward slashes.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Sha256">Its hash, in small hexadecimal digits.</param>
public sealed record ListedFile(string Path, long Bytes, string Sha256);

/// <summary>What a folder holds by that name, as its directory says: a file, or something else that is no folder.</summary>
/// <param name="Path">As <see cref="ListedFile.Path"/>.</param>
/// <param name="IsFile">False for a link, whatever it leads to.</param>
/// <param name="Bytes">The length of a file.</param>
/// <param name="Written">When it was last written.</param>
internal sealed record FolderEntry(string Path, bool IsFile, long Bytes, DateTime Written);

/// <summary>Lists of files with their hashes.</summary>
internal static class FileList
{
    // What file browsers leave in a folder that they show; no person's work is in it.
    private static readonly string[] Droppings = [".DS_Store", "Thumbs.db", "desktop.ini"];

    /// <summary>Hashes files of a folder.</summary>
    public static ImmutableArray<ListedFile> Hash(string folder, IReadOnlyList<string> names)
    {
        ArgumentNullException.ThrowIfNull(names);
        FileInfo[] files = [.. names.Select(name => new FileInfo(System.IO.Path.Combine(folder, name)))];
        var sums = Checksums.Of([.. files.Select(file => file.FullName)]);
        return [.. sums.Select((sum, i) => new ListedFile(names[i], files[i].Length, sum))];
    }

    /// <summary>Everything in a folder but folders and what file browsers leave there, in ordinal order. No link is followed.</summary>
    public static ImmutableArray<FolderEntry> Entries(string folder) =>
        [.. In(new DirectoryInfo(folder), "").OrderBy(entry => entry.Path, StringComparer.Ordinal)];

    /// <summary>The entries that are on no list, or are other files than the list says.</summary>
    public static IEnumerable<string> Strangers(
        string folder, IReadOnlyList<FolderEntry> entries, IReadOnlyDictionary<string, ListedFile> list)
    {
        ArgumentNullException.ThrowIfNull(entries);
        ArgumentNullException.ThrowIfNull(list);
        var likely = entries.Where(entry => Fits(entry, list)).Select(entry => entry.Path).ToArray();
        var same = Hash(folder, likely).Where(file => list[file.Path] == file).Select(file => file.Path).ToHashSet(StringComparer.Ordinal);
        return entries.Select(entry => entry.Path).Where(path => !same.Contains(path));
    }

    private static bool Fits(FolderEntry entry, IReadOnlyDictionary<string, ListedFile> list) =>
        entry.IsFile && list.TryGetValue(entry.Path, out var listed) && listed.Bytes == entry.Bytes;

    private static IEnumerable<FolderEntry> In(DirectoryInfo folder, string before)
    {
        foreach (var entry in folder.EnumerateFileSystemInfos())
        {
            var isLink = entry.Attributes.HasFlag(FileAttributes.ReparsePoint);
            if (entry is DirectoryInfo inner && !isLink)
                foreach (var each in In(inner, $"{before}{entry.Name}/"))
                    yield return each;
            else if (!Droppings.Contains(entry.Name))
                yield return new(before + entry.Name, !isLink, isLink ? 0 : ((FileInfo)entry).Length, entry.LastWriteTimeUtc);
        }
    }
}
