using System.Collections.Immutable;

namespace Outcomes.Studies.Signals;

/// <summary>How often stable departments get a signal.</summary>
internal static class FalseAlarms
{
    /// <summary>Bad rates of six measures, and how many have each.</summary>
    public static ImmutableArray<(double Rate, int Measures)> Six { get; } = [(0.05, 2), (0.08, 1), (0.15, 2), (0.20, 1)];

    /// <summary>
    /// The share with any signal on the six measures, each independent of the others, with its standard error by the delta method.
    /// </summary>
    public static (double Share, double Error) Family(Func<double, double> shareAtRate, int departments)
    {
        var (quiet, relative) = (1.0, 0.0);
        foreach (var (rate, measures) in Six)
        {
            var share = shareAtRate(rate);
            quiet *= Math.Pow(1 - share, measures);
            relative += measures * measures * share / ((1 - share) * departments);
        }
        return (1 - quiet, quiet * Math.Sqrt(relative));
    }

    /// <summary>The share of departments whose ln S reaches their limit in any report.</summary>
    public static double Share(Traces traces, Func<int, double> limit) =>
        Enumerable.Range(0, traces.Count).Count(index => traces.Most(index) >= limit(index)) / (double)traces.Count;

    public static IEnumerable<StudyRow> Rows(
        Scheme scheme, double volume, int history, int departments, ulong seed, ImmutableArray<Condition>? conditions = null)
    {
        foreach (var condition in conditions ?? Condition.All)
        {
            var i = Condition.All.IndexOf(condition);
            var traces = Six.ToDictionary(
                six => six.Rate,
                six => Traces.Of(new(volume, history, six.Rate), condition, departments,
                    Seeds.Of(seed, volume, history, i, six.Rate), scheme.Options));
            foreach (var (pace, extra, name) in scheme.Paces)
            {
                var (share, error) = Family(rate => Share(traces[rate], scheme.Limit(pace, extra, traces[rate], history)), departments);
                var (reference, referenceError) = Reference.FalseAlarm(volume, history, name, i);
                yield return new("false alarms", volume, history, name, condition.Name, share, error, reference, referenceError);
            }
        }
    }
}
