namespace Outcomes.Cli.Places;

/// <summary>What is tidied where it can be, and left to the next command where it cannot.</summary>
internal static class Tidy
{
    /// <summary>Does it; false where the disk refuses.</summary>
    public static bool Try(Action work)
    {
        try
        {
            work();
            return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }
}
