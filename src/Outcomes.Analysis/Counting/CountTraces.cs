using System.Globalization;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>Asks the engine how many records have a monitor trace.</summary>
public static class CountTraces
{
    /// <summary>How many records from one month to another have a trace, and what it can be judged for.</summary>
    public static TraceFigures Count(Engine engine, IReadOnlyDictionary<Month, long> records, Month from, Month to)
    {
        var signals = ((string, string)[])[("spo2", "SpO2"), ("sbp", "systolic pressure"), ("map", "mean pressure")];
        return new TraceFigures(
            records.Where(pair => pair.Key >= from && pair.Key <= to).Sum(pair => pair.Value),
            Levels("trace_spo2_status").Sum(row => row.Records), [.. signals.Select(signal => Signal(signal.Item1, signal.Item2))]);

        TraceSignal Signal(string name, string title)
        {
            var statuses = Levels($"trace_{name}_status").GroupBy(row => row.Level)
                .ToDictionary(group => group.Key!, group => group.Sum(row => row.Records));
            var coverage = Levels($"trace_{name}_coverage").Select(row => (Value: double.Parse(row.Level!, CultureInfo.InvariantCulture),
                row.Records)).OrderBy(row => row.Value).ToArray();
            var (middle, below) = (coverage.Sum(row => row.Records) / 2, 0L);
            double? median = coverage.Length == 0 ? null : coverage.First(row => (below += row.Records) > middle).Value;
            return new TraceSignal(title, Of("sufficient"), Of("low_coverage"), Of("too_sparse"), Of("no_samples"), median);

            long Of(string status) => statuses.GetValueOrDefault(status);
        }

        IEnumerable<LevelCount> Levels(string column) =>
            engine.Levels(column).Where(row => row.Level is not null && row.Month >= from && row.Month <= to);
    }
}
