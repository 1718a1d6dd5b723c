using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>A measure's months by the monthly test, in the measure's own counts.</summary>
internal static class MonthlyReading
{
    /// <summary>The unwelcome events of a measure's months.</summary>
    public static ImmutableArray<EventCount> Events(IEnumerable<Count> counts, Measure measure) =>
        [.. counts.Select(count => EventCount.From(count, metIsUnwelcome: ChangeSignals.BetterOf(measure) == Better.Down))];

    /// <summary>The test of a phase, from its first month on.</summary>
    /// <param name="measure">The measure.</param>
    /// <param name="counts">Its months, without one that is not over.</param>
    /// <param name="from">The first of them.</param>
    /// <param name="history">Declared months of history.</param>
    /// <param name="options">Constants of the test.</param>
    /// <param name="expected">The chances of each month's cases where the case mix is followed.</param>
    public static SignalWindow Read(Measure measure, ImmutableArray<Count> counts, Month from, int history, MonthlyTestOptions options,
        IReadOnlyList<ImmutableArray<double>>? expected)
    {
        var events = Events(counts, measure);
        if (MonthlyTest.CountHistory(events, history, options) is not { } months)
            return new(from, from.AddMonths(counts.Length),
                new(ChangeState.TooFewToJudge, counts.Length, Sum(counts), null, [], null, null));
        var test = MonthlyTest.Run(events, months, options, expected);
        ImmutableArray<ChangeMonth> reports =
        [
            .. test.Reports.Select(report => new ChangeMonth(counts[report.Month],
                Math.Max(report.LogOddsWorse, report.LogOddsBetter), null, State(test, report.Month))
            { Expected = expected is null ? null : report.Expected }),
        ];
        return new(from, from.AddMonths(months), new(State(test, counts.Length - 1), months, Sum(counts[..months]), test.Limits?.Worse,
            reports, test.CurrentSignal is { } signal ? Change(signal, counts, months) : null, test.Variation))
        {
            Test = test,
        };
    }

    private static ChangeState State(MonthlyTestResult test, int month) =>
        test.Signals.LastOrDefault(signal => signal.Month <= month) is { } last && last.IsCurrentAt(month)
            ? ChangeState.ChangeSignal : ChangeState.NoSignOfChange;

    private static Change Change(MonthlySignal signal, ImmutableArray<Count> counts, int history)
    {
        var start = signal.Start;
        return new(signal.Month - history, signal.ForTheWorse,
            new(start.Likeliest - history, start.From - history, start.To - history, start.Chance),
            Proportion.Estimate(Sum(counts[start.Likeliest..(signal.Month + 1)])),
            Proportion.Estimate(Sum(counts[(signal.Month + 1)..])));
    }

    private static Count Sum(ImmutableArray<Count> counts) => counts.Aggregate(default(Count), (sum, count) => sum + count);
}
