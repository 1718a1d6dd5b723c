using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>What signalled, and the change odds month by month, as rows of tables.</summary>
internal static class SignalTables
{
    /// <summary>
    /// Change signals of the headline measures, from the first month in which the change may have started to the month of the signal; and
    /// run charts whose own rules fire, those of headline measures included. Where the case mix is followed,
    /// <c>monthly_test_given_case_mix</c> decides and <c>monthly_test_without_case_mix</c>, unadjusted, stands beside it.
    /// </summary>
    public static IEnumerable<SignalsRow> Signals(Figures model) =>
        model.Measures.SelectMany(measure => Changes(measure).Concat(Rules(measure, model)));

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
                limits, "", null, default, "");
            foreach (var (report, month) in alone.Reading.Months.Index())
                yield return new(measure.Measure.Id, window.Of(report).ToString(), "report", month.Count, Odds(alone, report), limits,
                    Word(month.State), Six(given?.Reading.Months[report].Expected), Odds(given, report, fitted: true),
                    given is null ? "" : Word(given.Reading.Months[report].State));
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

    private static IEnumerable<SignalsRow> Changes(MeasureFigures measure)
    {
        if (measure.Signal is not { } signal)
            return [];
        return signal.CountsAlone is { } alone ? Row(signal, "_given_case_mix").Concat(Row(alone, "_without_case_mix")) : Row(signal, "");

        IEnumerable<SignalsRow> Row(MeasureSignal of, string mix)
        {
            if (of is { Change: { } change, Window: { } window })
                yield return new(measure.Measure.Id, CountRow.All, CountRow.All, Statistics.MonthlyTest.Method + mix
                    + (of.Withheld == Withheld.No ? "" : "_withheld"), window.Of(change.Start.From), window.Of(change.Report),
                    of.FalseAlarm, Statistics.MonthlyTest.Source);
        }
    }

    private static IEnumerable<SignalsRow> Rules(MeasureFigures measure, Figures model)
    {
        if (measure.RunChart is not { Signals: true } chart) yield break;
        const string source = "Anhoej and Olesen, PLoS ONE 2014;9:e113825";
        if (chart.LongRun) yield return Row("longest_run");
        if (chart.FewCrossings) yield return Row("few_crossings");

        SignalsRow Row(string rule) =>
            new(measure.Measure.Id, CountRow.All, CountRow.All, rule, From(chart, measure, model), To(chart, model), chart.Chance, source);
    }

    private static string Word(ChangeState state) => state switch
    {
        ChangeState.TooFewToJudge => "too_few_to_judge",
        ChangeState.NoSignOfChange => "no_sign_of_change",
        _ => "change_signal",
    };
}
