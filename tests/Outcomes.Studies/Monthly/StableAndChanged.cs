using System.Globalization;
using Outcomes.Statistics;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.Monthly;

/// <summary>How often stable departments get a signal, and changed ones get theirs.</summary>
internal static class StableAndChanged
{
    /// <summary>Departments with any signal in 36 reports, at each rate of six measures.</summary>
    public static IEnumerable<MonthlyRow> Stable(
        SignalTests tests, double volume, int history, double correlation, int departments, ulong seed)
    {
        foreach (var (rate, _) in FalseAlarms.Six)
        {
            var from = Seeds.Of(seed, volume, history, correlation, rate);
            var draws = new MonthlyDraws(volume, [.. Enumerable.Repeat(rate, history + Truth.Horizon)], correlation, from);
            var counts = tests.Names.ToDictionary(name => name, _ => 0);
            var months = new EventCount[history + Truth.Horizon];
            for (var index = 0; index < departments; index++)
            {
                draws.Draw(index, months);
                foreach (var (name, signals) in tests.Follow(months, history))
                    counts[name] += signals.Count > 0 ? 1 : 0;
            }
            foreach (var name in tests.Names)
                yield return new("stable", volume, Text(history), correlation, name, Name(rate), counts[name], departments, from);
        }
    }

    public static string Name(double rate) => string.Create(CultureInfo.InvariantCulture, $"{100 * rate} %");

    /// <summary>
    /// The share with any signal on the six measures, each independent of the others, with its standard error by the delta method.
    /// </summary>
    public static (double Share, double Error) Family(IReadOnlyList<MonthlyRow> rows) => FalseAlarms.Family(
        rate => rows.Single(row => row.Figure == Name(rate)).Share, rows[0].Of);

    /// <summary>Departments that are counted as the truth asks.</summary>
    public static IEnumerable<MonthlyRow> Changed(SignalTests tests, Truth truth, double volume, int history, int departments, ulong seed)
    {
        var from = Seeds.Of(seed, volume, history, Truth.All.IndexOf(truth) + 1_000);
        var draws = new MonthlyDraws(volume, truth.Rates(history), 0, from);
        var counts = tests.Names.ToDictionary(name => name, _ => (Count: 0, Of: 0));
        var months = new EventCount[history + truth.Reports];
        for (var index = 0; index < departments; index++)
        {
            draws.Draw(index, months);
            foreach (var (name, signals) in tests.Follow(months, history))
            {
                var (count, of) = Count(truth, signals);
                counts[name] = (counts[name].Count + count, counts[name].Of + of);
            }
        }
        foreach (var name in tests.Names)
            if (name != SignalTests.Odds || truth.Reports <= Truth.Horizon)
                yield return new("changed", volume, Text(history), 0, name, truth.Name, counts[name].Count, counts[name].Of, from);
    }

    /// <summary>Whether a department is counted as noticed, and whether it is counted at all.</summary>
    public static (int Count, int Of) Count(Truth truth, List<StudySignal> signals)
    {
        var year = truth.From + Truth.Year;
        return truth.Count switch
        {
            Counting.WithinAYearIfNoneBefore => signals is [var first, ..] && first.Report < truth.From ? (0, 0)
                : (signals is [var next, ..] && next.Report < year && next.ForTheWorse == truth.Worse ? 1 : 0, 1),
            Counting.WithinAYear => (Has(signal => signal.Report >= truth.From && signal.Report < year), 1),
            Counting.Before => (Has(signal => signal.Report < truth.From), 1),
            Counting.Any => (Has(_ => true), 1),
            _ => signals.Count == 0 ? (0, 0) : (signals.Count > 1 && signals[1].Report < signals[0].Report + 24 ? 1 : 0, 1),
        };

        int Has(Func<StudySignal, bool> when) =>
            signals.Any(signal => (truth.Worse is null || signal.ForTheWorse == truth.Worse) && when(signal)) ? 1 : 0;
    }

    private static string Text(int history) => history.ToString(CultureInfo.InvariantCulture);
}
