namespace Outcomes.Cli.Places;

/// <summary>
/// A file that one process at a time holds. The system lets go of it when that process dies, however it dies. On a network drive that
/// knows no locks nothing is held.
/// </summary>
internal sealed class FileLock : IDisposable
{
    // What systems say of a file that another process holds: EAGAIN of Linux, EAGAIN of macOS, ERROR_SHARING_VIOLATION of Windows.
    private const int LinuxHeld = 11, MacHeld = 35, WindowsHeld = unchecked((int)0x80070020);

    private static readonly DateTime FirstStamp = new(1980, 1, 1, 0, 0, 0, DateTimeKind.Utc);

    private readonly FileStream _file;
    private readonly string _path;

    private FileLock(FileStream file, string path) => (_file, _path) = (file, path);

    /// <summary>Takes it; null where another process holds it at this moment.</summary>
    /// <exception cref="IOException">The file cannot be made or opened.</exception>
    public static FileLock? TryTake(string path)
    {
        FileStream file;
        try
        {
            file = new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, bufferSize: 0);
        }
        catch (IOException e) when (IsHeld(e))
        {
            return null;
        }

        try
        {
            // Who held it before may have deleted it after it was opened here: then this is a file without a name, and another process may
            // hold a new one. A date of two seconds' grain, which every file system keeps, tells whether the name still means this file.
            var stamp = FirstStamp.AddSeconds(2.0 * Random.Shared.Next(890_000_000));
            File.SetLastWriteTimeUtc(file.SafeFileHandle, stamp);
            if (File.GetLastWriteTimeUtc(path) == stamp) return new FileLock(file, path);
        }
        catch
        {
            file.Dispose();
            throw;
        }

        file.Dispose();
        return null;
    }

    /// <summary>True when another process holds the file that could not be opened.</summary>
    public static bool IsHeld(IOException e)
    {
        ArgumentNullException.ThrowIfNull(e);
        return e.HResult is LinuxHeld or MacHeld or WindowsHeld;
    }

    /// <summary>Lets go of it and deletes it: by its name while it is still held, but for Windows, which deletes no open file.</summary>
    public void Dispose()
    {
        if (!OperatingSystem.IsWindows()) Tidy.Try(() => File.Delete(_path));
        _file.Dispose();
        if (OperatingSystem.IsWindows()) Tidy.Try(() => File.Delete(_path));
    }
}
