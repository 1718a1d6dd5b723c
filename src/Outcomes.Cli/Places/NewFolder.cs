using Outcomes.Records;

namespace Outcomes.Cli.Places;

/// <summary>A folder for files that a person will edit: whole or not at all, and never written over.</summary>
public static class NewFolder
{
    /// <summary>Builds a folder elsewhere and puts it in its place.</summary>
    /// <param name="folder">The place; it must not exist, or be empty.</param>
    /// <param name="build">Writes the files into the folder that it is given.</param>
    /// <exception cref="Failure">The folder holds something already, or cannot be made (exit 5).</exception>
    public static void Write(string folder, Action<string> build)
    {
        ArgumentNullException.ThrowIfNull(build);
        try
        {
            using var work = WorkFolder.Take(folder, folder);
            MustBeEmpty(folder);
            Directory.CreateDirectory(work.New);
            build(work.New);
            Interruption.Undisturbed(() =>
            {
                if (Directory.Exists(work.Place)) MoveInto(work);
                else Moves.ToFree(work.New, work.Place);
                Interruption.Published();
            });
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output,
                $"`{folder}` cannot be made, and nothing was written; name another folder, "
                    + "or check its permissions and the room on the disk");
        }
    }

    /// <exception cref="Failure">The folder holds something already (exit 5).</exception>
    public static void MustBeEmpty(string folder)
    {
        if (File.Exists(folder) || (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any()))
            throw new Failure(ExitCode.Output, $"`{folder}` is not empty; name a new folder");
    }

    // A folder that is there may be the one that the person's terminal stands in, so it stays, and the files move one by one.
    private static void MoveInto(WorkFolder work)
    {
        var names = FileList.Entries(work.New).Select(entry => entry.Path).ToArray();
        work.Begin(FileList.Hash(work.New, names).Select(file => file with { Path = Path.Combine(work.Place, file.Path) }));
        foreach (var name in names)
        {
            var place = Path.Combine(work.Place, name);
            Directory.CreateDirectory(Path.GetDirectoryName(place)!);
            Moves.ToFree(Path.Combine(work.New, name), place);
        }

        work.Finish();
    }
}
