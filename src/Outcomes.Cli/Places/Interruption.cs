using System.Runtime.InteropServices;
using Outcomes.Records;

namespace Outcomes.Cli.Places;

/// <summary>On an interrupt or a request to end: temporary output is removed, and the exit code says so.</summary>
public sealed class Interruption : IDisposable
{
    private static readonly Lock Gate = new();
    private static readonly List<Action> Removals = [];
    private static string _stands = "the earlier output stands as it was";
    private static volatile bool _stopping;

    private readonly PosixSignalRegistration[] _signals;

    private Interruption() =>
        _signals = [PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop), PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop)];

    public static Interruption Watch() => new();

    /// <summary>Something to remove when the command is interrupted, until the result is disposed of.</summary>
    public static IDisposable OnStop(Action remove)
    {
        lock (Gate) Removals.Add(remove);
        return new Removal(remove);
    }

    /// <summary>Does in one go what an interrupt may not part. It does not begin once the command is being stopped.</summary>
    public static void Undisturbed(Action work)
    {
        ArgumentNullException.ThrowIfNull(work);
        lock (Gate) work();
    }

    /// <summary>From now on an interrupt says that the new output stands.</summary>
    public static void Published() => _stands = "the new output is complete and in its place";

    /// <summary>From now on an interrupt is how the command ends: it writes nothing.</summary>
    public static void Serves() => _stands = "the page is closed";

    /// <summary>Waits for the end of a command that is being stopped: what fails meanwhile fails because its files are gone.</summary>
    public static void AwaitEnd()
    {
        // The signal's thread ends the process with its own exit code; any end from here would give another.
        if (_stopping) Thread.Sleep(Timeout.Infinite);
    }

    public void Dispose()
    {
        foreach (var signal in _signals) signal.Dispose();
    }

    private static void Stop(PosixSignalContext context)
    {
        context.Cancel = true;
        _stopping = true;
        // Kept until the process has ended, so that nothing is published meanwhile.
        lock (Gate)
        {
            // The command is still writing there: what it makes anew after this is removed by the next one.
            foreach (var remove in Removals) Tidy.Try(remove);
            Console.Error.WriteLine($"outcomes: interrupted; {_stands}");
            Environment.Exit((int)ExitCode.Interrupted);
        }
    }

    private sealed class Removal(Action remove) : IDisposable
    {
        public void Dispose()
        {
            lock (Gate) Removals.Remove(remove);
        }
    }
}
