namespace Outcomes.Ingestion.Traces;

/// <summary>
/// Values that last: k consecutive samples without a gap, where k samples cover 10 s and are at least two
/// (<see cref="CleanSignal.SustainedCount"/>).
/// </summary>
public static class Sustained
{
    /// <summary>
    /// The lowest value at or below which every one of k consecutive samples stayed: the least, over all such k within the range, of
    /// the highest of the k. Null where no k samples stand together.
    /// </summary>
    public static double? Lowest(CleanSignal signal, int first, int last)
    {
        // The highest of the last k by a queue of falling values: one pass, however large k.
        var count = signal.SustainedCount;
        var queue = new LinkedList<int>();
        double? lowest = null;
        var run = 0;
        for (var i = first; i < last; i++)
        {
            if (run > 0 && !signal.Joined(i - 1))
            {
                run = 0;
                queue.Clear();
            }

            run++;
            while (queue.Last is { } tail && signal.Value(tail.Value) <= signal.Value(i)) queue.RemoveLast();
            queue.AddLast(i);
            while (queue.First!.Value <= i - count) queue.RemoveFirst();
            if (run >= count && !(signal.Value(queue.First.Value) >= lowest)) lowest = signal.Value(queue.First.Value);
        }

        return lowest;
    }

    /// <summary>
    /// The first of the first k consecutive samples from <paramref name="from"/> ms on that all satisfy a condition; null
    /// where there are none.
    /// </summary>
    public static int? Start(CleanSignal signal, int from, int to, Func<double, bool> satisfies)
    {
        var count = signal.SustainedCount;
        var run = 0;
        for (var i = 0; i < signal.Count && signal.Ms(i) <= to; i++)
        {
            if (signal.Ms(i) < from) continue;
            if (run > 0 && !signal.Joined(i - 1)) run = 0;
            run = satisfies(signal.Value(i)) ? run + 1 : 0;
            if (run == count) return i - count + 1;
        }

        return null;
    }
}
