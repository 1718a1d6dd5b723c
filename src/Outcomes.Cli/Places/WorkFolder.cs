using Outcomes.Records;

namespace Outcomes.Cli.Places;

/// <summary>
/// A hidden folder beside a place that is to be written: <c>.report.outcomes</c> beside <c>report</c>. One process holds it at a time.
/// Whatever lies in it is ours, so that who holds it removes what an earlier process left behind, and ends what that had begun. It goes
/// when the work is done.
/// </summary>
public sealed class WorkFolder : IDisposable
{
    private const string LockName = "lock", OldName = "old", NewPrefix = "new-";

    // Each time it must vanish between its making and the next call: so often it is no other process but the place itself.
    private const int MostGone = 200;

    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(50);

    private readonly string _folder;
    private readonly FileLock _lock;
    private readonly IDisposable _onStop;
    private bool _ended;

    private WorkFolder(string place, string folder, FileLock taken)
    {
        (Place, _folder, _lock) = (place, folder, taken);
        // A name of its own, so that nothing that a killed run has started (a browser that prints) ever writes into the next one's set.
        New = Path.Combine(folder, NewPrefix + Path.GetRandomFileName());
        _onStop = Interruption.OnStop(End);
    }

    /// <summary>The place.</summary>
    public string Place { get; }

    /// <summary>Where the new file or folder is built; nothing is there yet.</summary>
    public string New { get; }

    /// <summary>Where a folder waits that is being replaced on a system that cannot swap two.</summary>
    public string Old => Path.Combine(_folder, OldName);

    private string Beginnings => Path.Combine(_folder, Begun.FileName);

    /// <summary>Holds the folder beside a place, and brings the place into order if an earlier process was stopped there.</summary>
    /// <param name="place">Where something is to be written.</param>
    /// <param name="shown">The place as the person named it.</param>
    /// <param name="wait">Whether to wait for another process that writes there.</param>
    /// <exception cref="Failure">Another process writes there and is not waited for, or the folder cannot be made (exit 5).</exception>
    public static WorkFolder Take(string place, string shown, bool wait = true)
    {
        place = Path.TrimEndingDirectorySeparator(Path.GetFullPath(place));
        try
        {
            if (Path.GetDirectoryName(place) is not { Length: > 0 } parent) throw NotWritable(shown);
            var folder = Path.Combine(parent, $".{Path.GetFileName(place)}.outcomes");
            var held = Hold(folder, shown, wait);
            try
            {
                if (Directory.EnumerateFileSystemEntries(folder).Select(Path.GetFileName).Any(name => !IsOurs(name!)))
                    throw new Failure(ExitCode.Output,
                        $"`{Path.GetFileName(folder)}` beside `{shown}` is where Outcomes builds what it writes there, and it holds other "
                        + "files; move them, or name another place");
                var work = new WorkFolder(place, folder, held);
                work.Recover();
                return work;
            }
            catch
            {
                held.Dispose();
                throw;
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw NotWritable(shown);
        }
    }

    /// <summary>
    /// Notes files that are about to be given names outside, several in several steps: a next process that finds the note takes those back
    /// that have got theirs.
    /// </summary>
    internal void Begin(IEnumerable<ListedFile> files) => Begun.Write(Beginnings, files);

    /// <summary>All have their names.</summary>
    internal void Finish() => File.Delete(Beginnings);

    public void Dispose()
    {
        Interruption.Undisturbed(End);
        _onStop.Dispose();
    }

    private static FileLock Hold(string folder, string shown, bool wait)
    {
        // No system lets a program wait for such a lock, so it is asked for again until it is free.
        var gone = 0;
        for (var told = false; ; Thread.Sleep(Pause))
        {
            try
            {
                Directory.CreateDirectory(folder);
                if (FileLock.TryTake(Path.Combine(folder, LockName)) is { } taken) return taken;
            }
            catch (IOException e) when ((e is DirectoryNotFoundException or FileNotFoundException || !Path.Exists(folder))
                && ++gone < MostGone)
            {
                // Who held it has removed it meanwhile, and another may have made it again: the folder may vanish between the call that
                // finds it there and the one that looks at it. What stops this for good, such as a file in its place, is still there.
                continue;
            }

            if (!File.Exists(Path.Combine(folder, LockName))) continue;
            if (!wait)
                throw new Failure(ExitCode.Output,
                    $"another run is writing `{shown}`, and nothing was written; run again when it has ended, "
                        + "or leave out --no-wait");
            if (!told) Console.Error.WriteLine($"outcomes: another run is writing `{shown}`; waiting until it has ended");
            told = true;
        }
    }

    private static bool IsOurs(string name) =>
        name is LockName or OldName || name.StartsWith(NewPrefix, StringComparison.Ordinal)
        || name.StartsWith(Begun.FileName, StringComparison.Ordinal);

    private static Failure NotWritable(string shown) =>
        new(ExitCode.Output, $"`{shown}` cannot be written; name another place, or check its permissions and the room on the disk");

    // What was begun is taken back, and what stood there before comes back to its place; what is left after that is rubbish.
    private void Recover()
    {
        if (File.Exists(Beginnings))
        {
            Begun.TakeBack(Beginnings, Place);
            File.Delete(Beginnings);
        }

        if (Directory.Exists(Old) && !Path.Exists(Place)) Directory.Move(Old, Place);
        foreach (var entry in new DirectoryInfo(_folder).EnumerateFileSystemInfos().Where(entry => entry.Name != LockName).ToArray())
            if (entry is DirectoryInfo { LinkTarget: null } folder) folder.Delete(recursive: true);
            else entry.Delete();
    }

    private void End()
    {
        if (_ended) return;
        _ended = true;
        Tidy.Try(Recover);
        _lock.Dispose();
        Tidy.Try(() => Directory.Delete(_folder));
    }
}
