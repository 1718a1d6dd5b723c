namespace Outcomes.Explore;

/// <summary>Counts the different questions of a day: the more one looks, the more differences chance will show.</summary>
/// <param name="clock">Says what day it is.</param>
public sealed class Looks(TimeProvider clock)
{
    private readonly Lock _gate = new();
    private readonly HashSet<string> _seen = [];
    private DateOnly _day;

    /// <summary>
    /// Takes note of a question and says how many different ones there were today; the same one again is no further look.
    /// </summary>
    public int Note(string question)
    {
        lock (_gate)
        {
            var today = DateOnly.FromDateTime(clock.GetLocalNow().DateTime);
            if (today != _day)
                _seen.Clear();
            _day = today;
            _ = _seen.Add(question);
            return _seen.Count;
        }
    }

    /// <summary>How many there were so far.</summary>
    public int Count
    {
        get
        {
            lock (_gate)
                return _seen.Count;
        }
    }
}
