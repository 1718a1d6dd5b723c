using Outcomes.Records;

namespace Outcomes.Cli.Output;

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
        var places = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var file in files)
        {
            if (!places.Add(System.IO.Path.GetFullPath(file.Path)))
                throw new Failure(ExitCode.Usage, $"{file.Option}: another option names the same file; name another");
            if (System.IO.Path.Exists(file.Path)) throw file.Taken();
        }

        foreach (var file in files) file.Write();
    }

    private void Write()
    {
        var part = $"{Path}.{System.IO.Path.GetRandomFileName()}.part";
        try
        {
            File.WriteAllBytes(part, Bytes);
            File.Move(part, Path, overwrite: false);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            if (File.Exists(part)) File.Delete(part);
            throw System.IO.Path.Exists(Path) ? Taken() : new Failure(ExitCode.Output,
                $"{Option}: `{Path}` cannot be written; name a file in a folder that exists and that can be written");
        }
    }

    private Failure Taken() =>
        new(ExitCode.Output, $"{Option}: `{Path}` is there already, and no file is ever overwritten; name another, or move that one away");
}
