using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The monthly test month by month, and the months of a run chart's phases, as rows of tables.</summary>
internal static class ChartRows
{
    /// <summary>
    /// Every headline measure: its history in one row, then a row a month; unadjusted and, where the case mix is followed, adjusted for
    /// it: both have the same history and limits.
    /// </summary>
    public static IEnumerable<MonthlyTestRow> MonthlyTests(Figures model)
    {
        foreach (var measure in model.Measures)
        {
            if (measure.Signal is not { Window: { } window } decides)
                continue;
            var alone = decides.CountsAlone?.Window ?? window;
            var given = decides.CountsAlone is null ? null : window;
            var limits = new TestedOdds(alone.Test?.Limits?.Worse, alone.Test?.Limits?.Better);
            yield return new(measure.Measure.Id, $"{window.HistoryFrom}/{window.HistoryTo}", "history", window.Reading.History, default,
                limits, null, default);
            foreach (var (report, month) in alone.Reading.Months.Index())
                yield return new(measure.Measure.Id, window.Of(report).ToString(), "report", month.Count, Odds(alone, report), limits,
                    Six(given?.Reading.Months[report].Expected), Odds(given, report, fitted: true));
        }
    }

    private static TestedOdds Odds(SignalWindow? window, int report, bool fitted = false) => window?.Test is not { } test ? default
        : fitted ? new(Six(test.Reports[report].LogOddsWorse), Six(test.Reports[report].LogOddsBetter))
        : new(test.Reports[report].LogOddsWorse, test.Reports[report].LogOddsBetter);

    // What rests on a fitted model has as many digits as processors agree on.
    private static double? Six(double? value) => value is { } number ? ExpectedEvents.Six(number) : null;

    /// <summary>First month of a phase: the model's for the first, for every other that of the declared change that starts it.</summary>
    public static Month From(RunChart phase, MeasureFigures measure, Figures model) =>
        ReferenceEquals(phase, measure.Phases[0]) ? model.First : model.First.AddMonths(phase.Points[0].Start);

    /// <summary>Last month of a phase.</summary>
    public static Month To(RunChart phase, Figures model) =>
        phase.Points.IsEmpty ? model.Last : model.First.AddMonths(phase.Points[^1].Start + phase.Points[^1].Months - 1);
}
