using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Cli.Places;

/// <summary>A file that a command makes at a place that a person names: whole or not at all, and never in the place of another.</summary>
/// <param name="Option">The option that names the place, for messages.</param>
/// <param name="Path">The place.</param>
/// <param name="Bytes">What goes there.</param>
public sealed record NewFile(string Option, string Path, byte[] Bytes)
{
    /// <summary>Writes all of them; where one place is taken or named twice none is written.</summary>
    /// <exception cref="Failure">A place is named twice (exit 2); is taken, or cannot be written (exit 5).</exception>
    public static void Write(IReadOnlyList<NewFile> files)
    {
        ArgumentNullException.ThrowIfNull(files);
        var places = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var file in files)
            if (!places.Add(System.IO.Path.GetFullPath(file.Path)))
                throw new Failure(ExitCode.Usage, $"{file.Option}: another option names the same file; name another");

        var works = new Stack<WorkFolder>();
        try
        {
            // All are taken before the first is looked at, so that what a killed command left beside any of them goes.
            foreach (var file in files) works.Push(file.Take());
            WorkFolder[] inOrder = [.. works.Reverse()];
            for (var i = 0; i < inOrder.Length; i++) files[i].Build(inOrder[i], files[i].WriteBytes);
            Publish(files, inOrder);
        }
        finally
        {
            foreach (var work in works) work.Dispose();
        }
    }

    /// <summary>Writes one whose bytes are not in memory.</summary>
    /// <param name="option">As <see cref="Option"/>.</param>
    /// <param name="path">As <see cref="Path"/>.</param>
    /// <param name="write">Writes the file that it is given the path of.</param>
    /// <exception cref="Failure">The place is taken, or cannot be written (exit 5).</exception>
    public static T Write<T>(string option, string path, Func<string, T> write)
    {
        ArgumentNullException.ThrowIfNull(write);
        var file = new NewFile(option, path, []);
        T result = default!;
        using var work = file.Take();
        file.Build(work, place => result = write(place));
        Publish([file], [work]);
        return result;
    }

    private WorkFolder Take() => Writing(() =>
        Directory.Exists(System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(Path)))
            ? WorkFolder.Take(Path, Path)
            : throw NotWritable());

    // Built beside its place, which is free.
    private void Build(WorkFolder work, Action<string> write) => Writing(() =>
    {
        MustBeFree();
        write(work.New);
        return work;
    });

    private WorkFolder Writing(Func<WorkFolder> act)
    {
        try
        {
            return act();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw NotWritable();
        }
    }

    private void WriteBytes(string place) => File.WriteAllBytes(place, Bytes);

    // Several are noted first: a command that is killed between the first and the last leaves none to the next.
    private static void Publish(IReadOnlyList<NewFile> files, WorkFolder[] works) => Interruption.Undisturbed(() =>
    {
        var first = works[0];
        var current = files[0];
        try
        {
            if (works.Length > 1) first.Begin(works.Select(work => Listed(work)));
            for (var i = 0; i < works.Length; i++)
            {
                current = files[i];
                Moves.ToFree(works[i].New, works[i].Place);
            }

            if (works.Length > 1) first.Finish();
            Interruption.Published();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Closing the first work folder takes back what has been placed.
            current.MustBeFree();
            throw current.NotWritable();
        }
    });

    private static ListedFile Listed(WorkFolder work) =>
        new(work.Place, new FileInfo(work.New).Length, Checksums.Of(work.New));

    private void MustBeFree()
    {
        if (System.IO.Path.Exists(Path) || new FileInfo(Path).LinkTarget is not null)
            throw new Failure(ExitCode.Output,
                $"{Option}: `{Path}` is there already, and no file is ever overwritten; name another, or move that one away");
    }

    private Failure NotWritable() => new(ExitCode.Output,
        $"{Option}: `{Path}` cannot be written; name a file in a folder that exists and that can be written");
}
