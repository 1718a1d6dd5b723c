using System.Diagnostics;

namespace Outcomes.Cli.Output;

/// <summary>Times the stages of a run and says which one is under way.</summary>
public sealed class StageWatch(Progress progress)
{
    private readonly List<(string, long)> _timings = [];

    /// <summary>For commands that print no timings.</summary>
    public static StageWatch None => new(new Progress(TextWriter.Null, onTerminal: false));

    public IReadOnlyList<(string Stage, long Milliseconds)> Timings => _timings;

    public T Time<T>(string stage, Func<T> work)
    {
        progress.Stage(stage);
        var start = Stopwatch.GetTimestamp();
        var result = work();
        _timings.Add((stage, (long)Stopwatch.GetElapsedTime(start).TotalMilliseconds));
        return result;
    }

    public void Time(string stage, Action work) => Time(stage, () =>
    {
        work();
        return 0;
    });
}
