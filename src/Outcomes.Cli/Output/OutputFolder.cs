using System.Collections.Immutable;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Places;
using Outcomes.Records;

namespace Outcomes.Cli.Output;

/// <summary>How a run meets what it finds at its output folder.</summary>
/// <param name="Wait">Waits for another run that writes there.</param>
/// <param name="Replace">Replaces another's set, and what a person put into the folder.</param>
public sealed record FolderOptions(bool Wait = true, bool Replace = false);

/// <summary>
/// The output set is built beside its place and swapped in whole: a reader finds the old complete set or the new one, never a
/// mixture, whatever interrupts the run. One run at a time writes there.
/// </summary>
public sealed class OutputFolder : IDisposable
{
    /// <summary>All that a set for others may hold.</summary>
    private static readonly string[] ForOthers =
        ["report.html", "report.pdf", "tables/counts.csv", "tables/estimates.csv", "datapackage.json", StandingSet.ManifestName];

    private readonly WorkFolder _work;
    private readonly FolderOptions _options;
    private readonly HashSet<string> _names = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ListedFile> _hashed = new(StringComparer.Ordinal);

    private OutputFolder(WorkFolder work, SetOwner owner, FolderOptions options, StandingSet standing) =>
        (_work, Owner, _options, Standing) = (work, owner, options, standing);

    /// <summary>Whose set is built.</summary>
    public SetOwner Owner { get; }

    /// <summary>What stood there when it was opened.</summary>
    public StandingSet Standing { get; }

    /// <summary>Where files are written until <see cref="Publish"/>.</summary>
    public string Path => _work.New;

    /// <summary>Where the set goes.</summary>
    public string Place => _work.Place;

    /// <summary>Opens a place for a new set; waits for another run that writes there.</summary>
    /// <exception cref="Failure">The folder is someone else's, or cannot be written (exit 5); nothing was touched.</exception>
    public static OutputFolder Open(string folder, SetOwner owner, FolderOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        var work = WorkFolder.Take(folder, folder, options.Wait);
        try
        {
            var standing = StandingSet.Read(work.Place, folder);
            if (!options.Replace) standing.RefuseOthers(owner);
            Directory.CreateDirectory(work.New);
            return new OutputFolder(work, owner, options, standing);
        }
        catch (Exception e)
        {
            work.Dispose();
            if (e is IOException or UnauthorizedAccessException)
                throw new Failure(ExitCode.Output, $"`{folder}` cannot be read and written; name another folder with --out, or check its "
                    + "permissions and the room on the disk");
            throw;
        }
    }

    /// <summary>Refuses a folder that holds a source of the pipeline: hours of corrections would go with the old set.</summary>
    /// <exception cref="Failure">It holds one, or the pipeline itself (exit 2).</exception>
    public static void RefuseSources(string folder, PipelineDefinition pipeline)
    {
        ArgumentNullException.ThrowIfNull(pipeline);
        var replaced =
            System.IO.Path.TrimEndingDirectorySeparator(System.IO.Path.GetFullPath(folder)) + System.IO.Path.DirectorySeparatorChar;
        if ((pipeline.Store + System.IO.Path.DirectorySeparatorChar).StartsWith(replaced, StringComparison.Ordinal)
            || pipeline.Path.StartsWith(replaced, StringComparison.Ordinal))
            throw new Failure(ExitCode.Usage,
                "the pipeline or its record store lies in the output folder, which this run would replace; name another folder with --out");
        if (pipeline.Minutes is { } minutes && (System.IO.Path.GetFullPath(System.IO.Path.Combine(pipeline.Folder, minutes))
            + System.IO.Path.DirectorySeparatorChar).StartsWith(replaced, StringComparison.Ordinal))
            throw new Failure(ExitCode.Usage,
                "the folder of minutes lies in the output folder, which this run would replace; name another folder with --out");
        foreach (var source in pipeline.Sources)
            foreach (var (path, file) in source.Mended.Select(mended => (mended.Path, mended.File)).Prepend((source.Path, source.File)))
                if (path.StartsWith(replaced, StringComparison.Ordinal))
                    throw new Failure(ExitCode.Usage, $"source `{source.Name}` lies in the output folder, which this run would replace; "
                        + $"copy `{System.IO.Path.GetFileName(file)}` beside the pipeline and name that copy");
    }

    /// <summary>A file of the set, by its path with forward slashes; its folder is made.</summary>
    public string PathOf(string name)
    {
        lock (_names) _names.Add(name);
        var path = System.IO.Path.Combine(Path, name);
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(path)!);
        return path;
    }

    /// <summary>The files of the set so far, but for the manifest, each hashed once: none is written again after this.</summary>
    public ImmutableArray<ListedFile> Files()
    {
        foreach (var file in FileList.Hash(Path, [.. _names.Where(name => name != StandingSet.ManifestName && !_hashed.ContainsKey(name)
            && File.Exists(System.IO.Path.Combine(Path, name)))]))
            _hashed.Add(file.Path, file);
        return [.. _hashed.Values.OrderBy(file => file.Path, StringComparer.Ordinal)];
    }

    /// <summary>Puts the new set in the old one's place.</summary>
    /// <exception cref="Failure">
    /// A set for others holds a file that is not for them, the old set was changed meanwhile, or it cannot be replaced (exit 5).
    /// </exception>
    public void Publish()
    {
        RefuseUnlisted();
        try
        {
            foreach (var empty in Directory.EnumerateDirectories(Path).Where(folder => !Directory.EnumerateFileSystemEntries(folder).Any()))
                Directory.Delete(empty);
            Interruption.Undisturbed(() =>
            {
                if (!_options.Replace) Standing.RefuseChanges();
                if (!Directory.Exists(Place)) Moves.ToFree(Path, Place);
                else if (!Moves.Exchange(Path, Place))
                {
                    Directory.Move(Place, _work.Old);
                    Directory.Move(Path, Place);
                }

                Interruption.Published();
            });
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output, $"`{Place}` could not be replaced; close programs that hold its files open and run again");
        }
    }

    /// <summary>Removes what was built and not published, and the set that was replaced.</summary>
    public void Dispose() => _work.Dispose();

    // The built folder holds the files of its list and the manifest, no other: a second look, for what goes out cannot be called back.
    private void RefuseUnlisted()
    {
        var entries = FileList.Entries(Path);
        if (Owner.Audience != EarlierReports.Word(Analysis.Audience.Department)
            && entries.FirstOrDefault(entry => !ForOthers.Contains(entry.Path)) is { Path: { } forbidden })
            throw new Failure(ExitCode.Output,
                $"`{forbidden}` was about to go into a report for {Owner.Audience}, where it does not belong, so "
                    + "nothing was published; internal error, please report it");
        var listed = entries.Where(entry => entry.Path != StandingSet.ManifestName).ToArray();
        if (listed.Length != entries.Length - 1 || listed.Length != _hashed.Count
            || listed.Any(entry => !entry.IsFile || !_hashed.TryGetValue(entry.Path, out var file) || file.Bytes != entry.Bytes))
            throw new InvalidOperationException("The set that was built is not the set that its manifest lists.");
    }
}
