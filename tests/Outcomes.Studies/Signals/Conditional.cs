using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>
/// The budget of single departments: a department's chance of a false signal depends on the luck of its own history. Many futures are
/// drawn for each of many histories, and departments put together from six independent histories.
/// </summary>
internal static class Conditional
{
    private const int Assembled = 5_000;

    public static IEnumerable<StudyRow> Rows(double volume, int history, int histories, int futures, ulong seed)
    {
        var scheme = Scheme.Shipped;
        var traces = FalseAlarms.Six.ToDictionary(six => six.Rate, six => Traces.OfSharedHistories(
            new(volume, history, six.Rate), histories, futures, Seeds.Of(seed, volume, history, 400, six.Rate), scheme.Options));
        foreach (var (pace, extra, name) in scheme.Paces)
        {
            var families = Families(traces, rate => scheme.Limit(pace, extra, traces[rate], history), histories, futures,
                Seeds.Of(seed, volume, history, 401));
            yield return new("by department", volume, history, name, "mean", families.Average());
            yield return new("by department", volume, history, name, "median", families[Assembled / 2]);
            yield return new("by department", volume, history, name, "90th centile", families[(int)(0.9 * Assembled)]);
            yield return new("by department", volume, history, name, "at most 10 %",
                families.Count(chance => chance <= 0.1) / (double)Assembled);
        }
    }

    /// <summary>Each department's chance of a false signal on any of six measures, in order of size.</summary>
    public static double[] Families(
        IReadOnlyDictionary<double, Traces> traces, Func<double, Func<int, double>> limit, int histories, int futures, ulong seed)
    {
        var chances = traces.ToDictionary(pair => pair.Key, pair => Chances(pair.Value, limit(pair.Key), futures));
        var uniform = SplitMix64.Uniform(seed);
        return [.. Enumerable.Range(0, Assembled).Select(_ => 1 - FalseAlarms.Six
            .SelectMany(six => Enumerable.Repeat(six.Rate, six.Measures))
            .Aggregate(1.0, (quiet, rate) => quiet * (1 - chances[rate][(int)(uniform() * histories)]))).Order()];
    }

    /// <summary>For each history, the share of its futures with a signal.</summary>
    private static double[] Chances(Traces traces, Func<int, double> limit, int futures) =>
        [.. Enumerable.Range(0, traces.Count).Chunk(futures)
            .Select(chunk => chunk.Count(index => traces.Most(index) >= limit(index)) / (double)futures)];
}
