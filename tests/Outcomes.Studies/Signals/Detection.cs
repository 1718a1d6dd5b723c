using System.Collections.Immutable;

namespace Outcomes.Studies.Signals;

/// <summary>How soon changed departments get a signal, among those that had none before the change.</summary>
internal static class Detection
{
    /// <summary>The changes of the detection table: bad rate before and after, 0-based report.</summary>
    public static ImmutableArray<(string Name, double Rate, double Changed, int From)> Changes { get; } =
    [
        ("85 > 70 % in month 1", 0.15, 0.30, 0), ("85 > 70 % in month 13", 0.15, 0.30, 12), ("85 > 70 % in month 25", 0.15, 0.30, 24),
        ("85 > 75 % in month 1", 0.15, 0.25, 0), ("85 > 75 % in month 13", 0.15, 0.25, 12), ("8 > 16 % in month 13", 0.08, 0.16, 12),
        ("80 > 90 % in month 13", 0.20, 0.10, 12),
    ];

    public static IEnumerable<StudyRow> Rows(Scheme scheme, double volume, int history, int departments, ulong seed)
    {
        for (var i = 0; i < Changes.Length; i++)
        {
            var (change, rate, changed, from) = Changes[i];
            var traces = Traces.Of(new(volume, history, rate, changed, from), Condition.Plain, departments,
                Seeds.Of(seed, volume, history, 100 + i), scheme.Options);
            foreach (var (pace, extra, name) in scheme.Paces)
            {
                var delays = Delays(traces, scheme.Limit(pace, extra, traces, history), from);
                var share = Within(delays, 12);
                var (reference, referenceError) = Reference.Noticed(volume, history, name, i);
                yield return new("noticed", volume, history, name, change, share, Math.Sqrt(share * (1 - share) / delays.Length),
                    reference, referenceError);
                yield return new("median months", volume, history, name, change, Quantile(delays, 0.5));
                yield return new("80 % months", volume, history, name, change, Quantile(delays, 0.8));
            }
        }
    }

    /// <summary>The delay that this share of departments have reached; null when they have not.</summary>
    private static double? Quantile(double[] delays, double share)
    {
        double[] sorted = [.. delays.Order()];
        var value = sorted[(int)Math.Floor(share * (sorted.Length - 1))];
        return double.IsFinite(value) ? value : null;
    }

    /// <summary>Reports until the signal, 1 for the report of the change; infinite when there is none.</summary>
    public static double[] Delays(Traces traces, Func<int, double> limit, int from)
    {
        var delays = new List<double>();
        for (var index = 0; index < traces.Count; index++)
        {
            var first = traces.First(index, limit(index));
            if (first is null || first >= from)
                delays.Add(first is { } report ? report - from + 1 : double.PositiveInfinity);
        }
        return [.. delays];
    }

    /// <summary>Share with a signal within so many reports, the report of the change being the first.</summary>
    public static double Within(Traces traces, Func<int, double> limit, int from, int reports) =>
        Within(Delays(traces, limit, from), reports);

    public static double Within(double[] delays, int reports) => delays.Count(delay => delay <= reports) / (double)delays.Length;
}
