using System.Runtime.InteropServices;
using Outcomes.Cli.Definitions;
using Outcomes.Records;

namespace Outcomes.Cli.Output;

/// <summary>
/// The output set is built beside its place and swapped in whole: a reader finds the old complete set or the new one, never a
/// mixture, whatever interrupts the run.
/// </summary>
public sealed class OutputFolder : IDisposable
{
    /// <summary>What the name of the flag beside a set that is being built adds to the set's.</summary>
    public const string FlagEnding = ".building";

    private const string ManifestName = "run.json";

    // Stands in a set that is being built, so that a folder of the same name with a person's files is never taken for one.
    private const string BuildingName = ".outcomes-building";

    // Stands beside it from before the first file until the old set is gone: a set without the other mark is then still known as ours, for
    // it was stopped in the moments about the swap.
    private readonly string _flag;

    private readonly string _final;
    private readonly string _old;
    private bool _published;

    private OutputFolder(string final)
    {
        _final = final;
        Path = final + ".new";
        _old = final + ".old";
        _flag = Path + FlagEnding;
    }

    /// <summary>Where files are written until <see cref="Publish"/>.</summary>
    public string Path { get; }

    /// <summary>Opens a place for a new set.</summary>
    /// <exception cref="Failure">The folder is someone else's, or cannot be written (exit 5); nothing was touched.</exception>
    public static OutputFolder Open(string folder)
    {
        var final = System.IO.Path.TrimEndingDirectorySeparator(System.IO.Path.GetFullPath(folder));
        var output = new OutputFolder(final);
        try
        {
            output.CompleteInterruptedSwap();
            if (File.Exists(final) || (Directory.Exists(final) && !IsOurs(final)))
                throw new Failure(ExitCode.Output,
                    $"`{folder}` holds files that are not an earlier report of ours; name another folder with --out, or empty it");
            if (Directory.Exists(output.Path) && !output.IsBeingBuilt())
                throw new Failure(ExitCode.Output, $"`{folder}.new` is where the set is built, and it holds files that are not ours; "
                    + "move them, or name another folder with --out");
            if (System.IO.Path.GetDirectoryName(final) is { Length: > 0 } parent) Directory.CreateDirectory(parent);
            File.Create(output._flag).Dispose();
            if (Directory.Exists(output.Path)) Remove(output.Path);
            Directory.CreateDirectory(output.Path);
            File.Create(System.IO.Path.Combine(output.Path, BuildingName)).Dispose();
            Interruption.RemoveOnStop(output.Path);
            return output;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output, $"`{folder}` cannot be written; name another folder with --out, or check its permissions");
        }
    }

    /// <summary>Refuses a folder that holds a source of the pipeline: hours of corrections would go with the old set.</summary>
    /// <exception cref="Failure">It holds one (exit 2).</exception>
    public static void RefuseSources(string folder, PipelineDefinition pipeline)
    {
        ArgumentNullException.ThrowIfNull(pipeline);
        var replaced = System.IO.Path.GetFullPath(folder) + System.IO.Path.DirectorySeparatorChar;
        foreach (var source in pipeline.Sources)
            foreach (var (path, file) in source.Mended.Select(mended => (mended.Path, mended.File)).Prepend((source.Path, source.File)))
                if (path.StartsWith(replaced, StringComparison.Ordinal))
                    throw new Failure(ExitCode.Usage, $"source `{source.Name}` lies in the output folder, which this run would replace; "
                        + $"copy `{System.IO.Path.GetFileName(file)}` beside the pipeline and name that copy");
    }

    /// <summary>A file of the set; its folder is made.</summary>
    public string PathOf(string name)
    {
        var path = System.IO.Path.Combine(Path, name);
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(path)!);
        return path;
    }

    /// <summary>Puts the new set in the old one's place.</summary>
    public void Publish()
    {
        try
        {
            File.Delete(System.IO.Path.Combine(Path, BuildingName));
            foreach (var empty in Directory.EnumerateDirectories(Path).Where(folder => !Directory.EnumerateFileSystemEntries(folder).Any()))
                Directory.Delete(empty);
            if (!Directory.Exists(_final)) Directory.Move(Path, _final);
            else if (Exchange(Path, _final)) Remove(Path);
            else
            {
                Directory.Move(_final, _old);
                Directory.Move(Path, _final);
                Directory.Delete(_old, recursive: true);
            }

            File.Delete(_flag);
            _published = true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output, $"`{_final}` could not be replaced; close programs that hold its files open and run again");
        }
    }

    public void Dispose()
    {
        if (_published) return;
        if (Directory.Exists(Path)) Remove(Path);
        File.Delete(_flag);
    }

    private bool IsBeingBuilt() => File.Exists(System.IO.Path.Combine(Path, BuildingName)) || (File.Exists(_flag) && IsOurs(Path));

    // The mark goes last, so that what a cut leaves lying is still known as ours.
    private static void Remove(string folder)
    {
        var mark = System.IO.Path.Combine(folder, BuildingName);
        File.Create(mark).Dispose();
        foreach (var entry in Directory.EnumerateFileSystemEntries(folder).Where(entry => entry != mark).ToArray())
        {
            if (Directory.Exists(entry) && new DirectoryInfo(entry).LinkTarget is null) Directory.Delete(entry, recursive: true);
            else File.Delete(entry);
        }

        Directory.Delete(folder, recursive: true);
    }

    // Empty, or with a manifest of ours.
    private static bool IsOurs(string folder) =>
        !Directory.EnumerateFileSystemEntries(folder).Any()
        || (System.IO.Path.Combine(folder, ManifestName) is var manifest && File.Exists(manifest) && RunManifest.IsOurs(manifest));

    private void CompleteInterruptedSwap()
    {
        if (!Directory.Exists(_old)) return;
        if (!IsOurs(_old)) return;
        if (!Directory.Exists(_final)) Directory.Move(_old, _final);
        else Directory.Delete(_old, recursive: true);
    }

    // Linux swaps two folders in one step (renameat2 with RENAME_EXCHANGE); elsewhere two renames do, completed at the next start if cut.
    private static bool Exchange(string left, string right)
    {
        if (!OperatingSystem.IsLinux()) return false;
        try
        {
            const int currentFolder = -100;
            const uint exchange = 2;
            return Rename(currentFolder, left, currentFolder, right, exchange) == 0;
        }
        catch (EntryPointNotFoundException)
        {
            return false;
        }
    }

    [DllImport("libc", EntryPoint = "renameat2", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Rename(int fromFolder, [MarshalAs(UnmanagedType.LPUTF8Str)] string from, int toFolder,
        [MarshalAs(UnmanagedType.LPUTF8Str)] string to, uint flags);
}
