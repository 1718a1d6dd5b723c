using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Model;
using Outcomes.Reporting.Tables;
using Outcomes.Statistics;

namespace Outcomes.Cli.Run;

/// <summary>What signalled, and the change odds month by month, as rows of tables.</summary>
public static class SignalTables
{
    /// <summary>
    /// Change signals of the headline measures, from the first month in which the change may have started to the month of the signal; and
    /// run charts whose own rules fire, those of headline measures included.
    /// </summary>
    public static IEnumerable<SignalsRow> Signals(ReportModel model) => model.Measures.SelectMany(measure => Changes(measure).Concat(Rules(measure, model)));

    /// <summary>Every window of every headline measure: its history in one row, then a row a month.</summary>
    public static IEnumerable<ChangeOddsRow> ChangeOdds(ReportModel model)
    {
        foreach (var measure in model.Measures.Where(measure => measure.Signal is not null))
            foreach (var window in measure.Signal!.Windows)
            {
                var limit = window.Reading.Limit;
                yield return new(measure.Measure.Id, $"{window.HistoryFrom}/{window.HistoryTo}", "history", window.Reading.History, null, limit, "");
                foreach (var (report, month) in window.Reading.Months.Index())
                    yield return new(measure.Measure.Id, window.Of(report).ToString(), "report", month.Count, month.LogOdds, limit, Word(month.State));
            }
    }

    /// <summary>First month of a phase: the model's for the first, for every other that of the declared change that starts it.</summary>
    public static Month From(RunChart phase, MeasureReport measure, ReportModel model) =>
        ReferenceEquals(phase, measure.Phases[0]) ? model.First : model.First.AddMonths(phase.Points[0].Start);

    /// <summary>Last month of a phase.</summary>
    public static Month To(RunChart phase, ReportModel model) =>
        phase.Points.IsEmpty ? model.Last : model.First.AddMonths(phase.Points[^1].Start + phase.Points[^1].Months - 1);

    private static IEnumerable<SignalsRow> Changes(MeasureReport measure)
    {
        if (measure.Signal is { Change: { } change, Window: { } window } signal)
            yield return new(measure.Measure.Id, CountRow.All, CountRow.All, signal.Withheld == Withheld.No ? Statistics.ChangeOdds.Method : $"{Statistics.ChangeOdds.Method}_withheld",
                window.Of(change.Start.From), window.Of(change.Report), signal.FalseAlarm, Statistics.ChangeOdds.Source);
    }

    private static IEnumerable<SignalsRow> Rules(MeasureReport measure, ReportModel model)
    {
        if (measure.RunChart is not { Signals: true } chart) yield break;
        const string source = "Anhoej and Olesen, PLoS ONE 2014;9:e113825";
        if (chart.LongRun) yield return Row("longest_run");
        if (chart.FewCrossings) yield return Row("few_crossings");

        SignalsRow Row(string rule) => new(measure.Measure.Id, CountRow.All, CountRow.All, rule, From(chart, measure, model), To(chart, model), chart.Chance, source);
    }

    private static string Word(ChangeState state) => state switch
    {
        ChangeState.TooFewToJudge => "too_few_to_judge",
        ChangeState.NoSignOfChange => "no_sign_of_change",
        _ => "change_signal",
    };
}
