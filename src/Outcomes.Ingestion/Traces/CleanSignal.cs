namespace Outcomes.Ingestion.Traces;

/// <summary>
/// The samples of one signal that count, in order of time, and how long each stands for. Rows without a value are no samples; several
/// at one moment count as their median; a lone sample that leaps from both neighbours is none. A sample stands until the next one,
/// or for one interval where the next is further than the gap limit or there is none: the rest of the gap is unknown time.
/// </summary>
public sealed class CleanSignal
{
    private readonly int[] _ms;
    private readonly double[] _values;
    private readonly int[] _hold;

    private CleanSignal(int[] ms, double[] values, int? intervalMs)
    {
        (_ms, _values, IntervalMs) = (ms, values, intervalMs);
        _hold = new int[ms.Length];
        if (intervalMs is not { } interval) return;
        for (var i = 0; i < ms.Length; i++)
            _hold[i] = Joined(i) ? ms[i + 1] - ms[i] : interval;
    }

    public int Count => _ms.Length;

    /// <summary>
    /// Median of the differences between successive moments with a row, with or without a value (the lower of two); null with fewer
    /// than two moments.
    /// </summary>
    public int? IntervalMs { get; }

    public int Ms(int i) => _ms[i];

    public double Value(int i) => _values[i];

    /// <summary>How long sample i stands for, ms.</summary>
    public int HoldMs(int i) => _hold[i];

    /// <summary>Consecutive samples that make a value sustained: as many as cover 10 s, and at least two.</summary>
    public int SustainedCount => IntervalMs is { } interval
        ? Math.Max(TraceRules.SustainedSamples, (TraceRules.SustainedMs + interval - 1) / interval)
        : TraceRules.SustainedSamples;

    /// <summary>True when sample i is followed by another without a gap.</summary>
    public bool Joined(int i) =>
        i + 1 < _ms.Length && IntervalMs is { } interval && _ms[i + 1] - _ms[i] <= TraceRules.GapIntervals * interval;

    /// <summary>How much of the time that sample i stands for lies in [from, to), ms.</summary>
    public int Within(int i, int from, int to) => Math.Max(0, Math.Min(_ms[i] + _hold[i], to) - Math.Max(_ms[i], from));

    /// <summary>The samples that count.</summary>
    /// <param name="samples">One signal of one record, in order of time; the order at one moment does not matter.</param>
    /// <param name="jump">The leap from both neighbours beyond which a lone sample is an artefact.</param>
    public static CleanSignal Of(ReadOnlySpan<Sample> samples, double jump = double.PositiveInfinity)
    {
        var (ms, values, moments) = (new List<int>(samples.Length), new List<double>(samples.Length), new List<int>(samples.Length));
        var same = new List<double>();
        for (var i = 0; i < samples.Length;)
        {
            var at = samples[i].Ms;
            same.Clear();
            for (; i < samples.Length && samples[i].Ms == at; i++)
                if (!double.IsNaN(samples[i].Value)) same.Add(samples[i].Value);
            moments.Add(at);
            if (same.Count == 0) continue;
            ms.Add(at);
            values.Add(Median(same));
        }

        var interval = Interval(moments);
        var kept = Enumerable.Range(0, ms.Count).Where(i => !Leaps(ms, values, i, jump)).ToArray();
        return new CleanSignal([.. kept.Select(i => ms[i])], [.. kept.Select(i => values[i])], interval);
    }

    private static bool Leaps(List<int> ms, List<double> values, int i, double jump)
    {
        if (i == 0 || i == ms.Count - 1 || ms[i + 1] - ms[i - 1] > TraceRules.JumpNeighboursMs) return false;
        var (before, after) = (values[i - 1], values[i + 1]);
        return values[i] < Math.Min(before, after) - jump || values[i] > Math.Max(before, after) + jump;
    }

    private static int? Interval(List<int> moments)
    {
        if (moments.Count < 2) return null;
        var differences = new int[moments.Count - 1];
        for (var i = 0; i < differences.Length; i++) differences[i] = moments[i + 1] - moments[i];
        Array.Sort(differences);
        return differences[(differences.Length - 1) / 2];
    }

    private static double Median(List<double> values)
    {
        if (values.Count == 1) return values[0];
        values.Sort();
        var middle = values.Count / 2;
        return values.Count % 2 == 1 ? values[middle] : (values[middle - 1] + values[middle]) / 2;
    }
}
