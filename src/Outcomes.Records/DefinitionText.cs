using System.Text;

namespace Outcomes.Records;

/// <summary>Reads a file that a person edits. Such files are small: a longer one is most likely an export named by mistake.</summary>
public static class DefinitionText
{
    /// <summary>4 MiB: the shipped definitions together are an eighth of that.</summary>
    public const int MaximumBytes = 4 * 1024 * 1024;

    /// <summary>Its bytes. No more is read than a definition may hold, whatever the file is.</summary>
    /// <param name="path">Where the file is.</param>
    /// <param name="shown">Its name in messages.</param>
    /// <param name="missing">What to say where it cannot be read.</param>
    /// <exception cref="Failure">It is missing, a pipe or a device, or too long (exit 3).</exception>
    public static byte[] ReadBytes(string path, string shown, string missing = "the file is missing or cannot be read; check the path")
    {
        try
        {
            // Pipes and devices have no length; to open one can wait for ever.
            if (new FileInfo(path) is { Exists: true, Length: 0 })
                return [];
            using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
            if (file.Length > MaximumBytes)
                throw TooLong(shown);
            var bytes = new byte[MaximumBytes + 1];
            var length = file.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
            return length <= MaximumBytes ? bytes[..length] : throw TooLong(shown);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            throw Failure.Definition(shown, 0, missing);
        }
    }

    /// <summary>Its text: UTF-8, or what its byte order mark says.</summary>
    /// <exception cref="Failure">As <see cref="ReadBytes"/>.</exception>
    public static string Read(string path, string shown)
    {
        using var text = new StreamReader(new MemoryStream(ReadBytes(path, shown)), Encoding.UTF8);
        return text.ReadToEnd();
    }

    internal static Failure TooLong(string shown) => Failure.Definition(shown, 0, "the file is over 4 MiB; split it");
}
