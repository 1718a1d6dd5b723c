using Outcomes.Records;

namespace Outcomes.Cli.Output;

/// <summary>A folder for files that a person will edit: never written over.</summary>
public static class NewFolder
{
    /// <exception cref="Failure">The folder holds something already, or cannot be made (exit 5).</exception>
    public static void Make(string folder)
    {
        try
        {
            MustBeEmpty(folder);
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output, $"`{folder}` cannot be made; name another folder, or check its permissions");
        }
    }

    /// <exception cref="Failure">The folder holds something already (exit 5).</exception>
    public static void MustBeEmpty(string folder)
    {
        if (File.Exists(folder) || (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any()))
            throw new Failure(ExitCode.Output, $"`{folder}` is not empty; name a new folder");
    }
}
