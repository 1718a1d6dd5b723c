using System.Security.Cryptography;
using System.Text;

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
    public static void Write(string folder)
    {
        var text = new StringBuilder();
        foreach (var path in Others(folder)) text.Append(Of(path)).Append("  ").Append(Path.GetFileName(path)).Append('\n');
        File.WriteAllText(Path.Combine(folder, FileName), text.ToString());
    }

    /// <summary>True when the folder holds exactly the files of its list, byte for byte.</summary>
    public static bool Hold(string folder)
    {
        try
        {
            var listed = File.ReadAllLines(Path.Combine(folder, FileName));
            return listed.SequenceEqual(Others(folder).Select(path => $"{Of(path)}  {Path.GetFileName(path)}"), StringComparer.Ordinal);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    private static IEnumerable<string> Others(string folder) =>
        Directory.EnumerateFiles(folder).Where(path => Path.GetFileName(path) != FileName).Order(StringComparer.Ordinal);

    private static string Of(string path)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, BufferSize, FileOptions.SequentialScan);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }
}
