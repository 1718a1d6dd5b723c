using Outcomes.Cli.Output;
using Outcomes.Cli.Places;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Cli.Commands;

/// <summary>The command line: parse, run one command, turn every stop into one sentence and an exit code.</summary>
public static class Program
{
    public static int Main(string[] args) => (int)Run(args);

    private static ExitCode Run(string[] args)
    {
        using var interruption = Interruption.Watch();
        try
        {
            return CommandLine.Run(args);
        }
        catch (Failure failure)
        {
            Interruption.AwaitEnd();
            Say(failure.Message);
            return failure.Code;
        }
        catch (IOException e) when (e.HResult is BrokenPipe)
        {
            // The reader of our output closed the pipe: nothing to say, and nobody to say it to.
            return ExitCode.Done;
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException || Engine.HasLostFile(e))
        {
            Interruption.AwaitEnd();
            Say("a file of the record store or of the output was deleted while the command ran; nothing was published, run it again");
            return ExitCode.Output;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Interruption.AwaitEnd();
            Say("a file could not be read or written (is the disk full, or the folder read-only?); nothing was published, "
                + "correct it and run again");
            return ExitCode.Output;
        }
        catch (OutOfMemoryException)
        {
            Say("the memory of this machine is not enough for this input; split the export by period, or close other programs");
            return ExitCode.Input;
        }
        catch (Exception e)
        {
            Interruption.AwaitEnd();
            // No stack trace and no message of the exception: either may hold a patient's value.
            Say($"internal error ({e.GetType().Name} in {e.TargetSite?.DeclaringType?.Name}.{e.TargetSite?.Name}); "
                + $"please report it with the command, but without any data");
            return ExitCode.Bug;
        }
    }

    private const int BrokenPipe = 32;

    private static void Say(string message) => Console.Error.WriteLine(Encode.Visible($"{Tool.Name}: {message}"));
}
