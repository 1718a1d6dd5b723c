using System.Runtime.InteropServices;

namespace Outcomes.Cli.Places;

/// <summary>Renames that happen in one step or not at all.</summary>
internal static class Moves
{
    private const int CurrentFolder = -100;
    private const uint NoReplace = 1, BothWays = 2;

    /// <summary>Swaps two folders in one step; false where the system cannot.</summary>
    public static bool Exchange(string left, string right) => Rename(left, right, BothWays);

    /// <summary>Gives a file or a folder a name that nothing bears.</summary>
    /// <exception cref="IOException">Something bears it, or the disk refuses.</exception>
    public static void ToFree(string from, string to)
    {
        if (Rename(from, to, NoReplace)) return;
        if (Directory.Exists(from)) Directory.Move(from, to);
        else File.Move(from, to, overwrite: false);
    }

    // Linux alone has renames that look first (renameat2), and not on every file system.
    private static bool Rename(string from, string to, uint how)
    {
        if (!OperatingSystem.IsLinux()) return false;
        try
        {
            return Rename(CurrentFolder, from, CurrentFolder, to, how) == 0;
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
