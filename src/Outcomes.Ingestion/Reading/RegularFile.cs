using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>Opens files that hold data, and sees whether one was written to while it was read.</summary>
internal static class RegularFile
{
    private const string Empty = "the file is empty; a heading row is needed (a pipe or a device is not read: save it as a file)";

    /// <summary>Opens a file with something in it.</summary>
    /// <exception cref="Failure">It is empty, or a pipe or a device: to open one can wait for ever (exit 4).</exception>
    public static FileStream Open(string path, string name)
    {
        if (new FileInfo(path) is { Exists: true, Length: 0 })
            throw new Failure(ExitCode.Input, Empty, name, rule: "no_heading");
        var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1);
        if (file.CanSeek) return file;
        file.Dispose();
        throw new Failure(ExitCode.Input, Empty, name, rule: "no_heading");
    }

    /// <summary>What tells, at any later time, whether the file's length or its time of writing has changed since now.</summary>
    public static Func<bool> Watch(FileStream file)
    {
        var before = State(file);
        return () => State(file) != before;
    }

    /// <summary>What to say of a file that another program wrote while it was read.</summary>
    public static Failure Changed(string name) => new(ExitCode.Input,
        "the file was changed while it was read; wait until its export is finished, and run again", name, rule: "changed_while_read");

    private static (long Length, DateTime Written) State(FileStream file) => (file.Length, File.GetLastWriteTimeUtc(file.SafeFileHandle));
}
