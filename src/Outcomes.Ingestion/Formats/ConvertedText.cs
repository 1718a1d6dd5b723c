using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>
/// A source that is not UTF-8 text, as such text. It holds what the mapping does not read too, so it never gets a name that outlives the
/// command: where the system allows it, it is gone from its folder before its first byte is written.
/// </summary>
internal static class ConvertedText
{
    /// <summary>Converts a source.</summary>
    /// <param name="format">Its format.</param>
    /// <param name="file">The file.</param>
    /// <param name="folder">A folder on the disk that has room for the text.</param>
    /// <param name="request">The table.</param>
    /// <returns>The text at its start, to be closed by the caller.</returns>
    /// <exception cref="Failure">As <see cref="SourceFormats.Convert"/>.</exception>
    public static (FileStream Text, Conversion Conversion) Make(SourceFormat format, FileStream file, string folder, TableRequest request)
    {
        var text = Nameless(folder);
        try
        {
            file.Position = 0;
            var conversion = SourceFormats.Convert(format, file, text, request);
            text.Flush();
            text.Position = 0;
            return (text, conversion);
        }
        catch
        {
            text.Dispose();
            throw;
        }
    }

    private static FileStream Nameless(string folder)
    {
        var path = Path.Combine(folder, "text-" + Path.GetRandomFileName());
        var text = new FileStream(
            path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.Read | FileShare.Delete, 1 << 16, FileOptions.DeleteOnClose);
        // Windows itself deletes what a dead process had open so; elsewhere an open file needs no name.
        if (!OperatingSystem.IsWindows()) File.Delete(path);
        return text;
    }
}
