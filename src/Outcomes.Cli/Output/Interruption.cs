using System.Runtime.InteropServices;
using Outcomes.Records;

namespace Outcomes.Cli.Output;

/// <summary>On an interrupt or a request to end: temporary output is removed, and the exit code says so.</summary>
public sealed class Interruption : IDisposable
{
    private static readonly List<string> Temporary = [];
    private readonly PosixSignalRegistration[] _signals;

    private Interruption() =>
        _signals = [PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop), PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop)];

    public static Interruption Watch() => new();

    /// <summary>A folder to remove when the run is interrupted.</summary>
    public static void RemoveOnStop(string folder)
    {
        lock (Temporary) Temporary.Add(folder);
    }

    public void Dispose()
    {
        foreach (var signal in _signals) signal.Dispose();
    }

    private static void Stop(PosixSignalContext context)
    {
        context.Cancel = true;
        lock (Temporary)
            foreach (var folder in Temporary.Where(Directory.Exists))
                try
                {
                    Directory.Delete(folder, recursive: true);
                    File.Delete(folder + OutputFolder.FlagEnding);
                }
                catch (Exception e) when (e is IOException or UnauthorizedAccessException)
                {
                    // The run is still writing there; the next run removes it.
                }

        Console.Error.WriteLine($"{Tool.Name}: interrupted; the earlier output stands as it was");
        Environment.Exit((int)ExitCode.Interrupted);
    }
}
