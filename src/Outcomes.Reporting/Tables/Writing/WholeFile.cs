namespace Outcomes.Reporting.Tables;

/// <summary>A file appears under its name only once it is complete.</summary>
public static class WholeFile
{
    public static void Write(string path, Action<Stream> write)
    {
        ArgumentNullException.ThrowIfNull(write);
        var part = path + ".part";
        try
        {
            // No buffer of its own: the writers here hand over large blocks.
            using (var stream = new FileStream(part, FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0))
                write(stream);
            File.Move(part, path, overwrite: true);
        }
        catch
        {
            File.Delete(part);
            throw;
        }
    }

    public static void Write(string path, ReadOnlySpan<byte> bytes)
    {
        var copy = bytes.ToArray();
        Write(path, stream => stream.Write(copy));
    }
}
