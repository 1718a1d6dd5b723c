using System.Runtime.ExceptionServices;
using System.Security.Cryptography;

namespace Outcomes.Ingestion.Store;

/// <summary>
/// The SHA-256 of every file of a folder of the store, in a file of their own which is written last: a folder that does not hold exactly
/// these files with these bytes is never used. The layout is that of <c>sha256sum</c>, so that anyone can check a folder.
/// </summary>
public static class Checksums
{
    public const string FileName = "SHA256SUMS";

    // A disk's usual block: larger ones are no faster.
    private const int BufferSize = 1 << 17;

    /// <summary>Writes the sums of all files that are in the folder.</summary>
    public static void Write(string folder) =>
        File.WriteAllText(Path.Combine(folder, FileName), string.Concat(Lines(folder).Select(line => line + "\n")));

    /// <summary>True when the folder holds exactly the files of its list, byte for byte.</summary>
    public static bool Hold(string folder)
    {
        try
        {
            var listed = File.ReadAllLines(Path.Combine(folder, FileName));
            return listed.SequenceEqual(Lines(folder), StringComparer.Ordinal);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    /// <summary>The SHA-256 of each file, in small hexadecimal digits.</summary>
    /// <exception cref="IOException">A file cannot be read.</exception>
    public static string[] Of(IReadOnlyList<string> paths)
    {
        ArgumentNullException.ThrowIfNull(paths);
        var sums = new string[paths.Count];
        try
        {
            // Of a million rows the two large files take half a second one after the other.
            Parallel.For(0, sums.Length, i => sums[i] = Of(paths[i]));
            return sums;
        }
        catch (AggregateException e)
        {
            // Callers know what a file that is gone means, and not that several threads looked for it.
            ExceptionDispatchInfo.Throw(e.InnerExceptions[0]);
            throw;
        }
    }

    /// <summary>The SHA-256 of a file, in small hexadecimal digits.</summary>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static string Of(string path)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, BufferSize, FileOptions.SequentialScan);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }

    private static string[] Lines(string folder)
    {
        var files = Directory.EnumerateFiles(folder).Where(path => Path.GetFileName(path) != FileName)
            .Order(StringComparer.Ordinal).ToArray();
        return [.. Of(files).Zip(files, (sum, path) => $"{sum}  {Path.GetFileName(path)}")];
    }
}
