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
    /// <c>change_odds_given_case_mix</c> decides and <c>change_odds_without_case_mix</c>, the counts alone, stands beside it.
    /// </summary>
    public static IEnumerable<SignalsRow> Signals(Figures model) =>
        model.Measures.SelectMany(measure => Changes(measure).Concat(Rules(measure, model)));

    /// <summary>
    /// Every window of every headline measure: its history in one row, then a row a month. The counts alone and, where the case mix is
    /// followed, what decides: both have the same history and limit. Where one has signalled, its state stays and nothing more is
    /// worked out for it.
    /// </summary>
    public static IEnumerable<ChangeOddsRow> ChangeOdds(Figures model)
    {
        foreach (var measure in model.Measures.Where(measure => measure.Signal is not null))
        {
            var (decides, alone) = (measure.Signal!, measure.Signal!.CountsAlone ?? measure.Signal!);
            foreach (var (at, window) in (decides.Windows.Length > alone.Windows.Length ? decides : alone).Windows.Index())
            {
                var limit = window.Reading.Limit;
                yield return new(measure.Measure.Id, $"{window.HistoryFrom}/{window.HistoryTo}", "history", window.Reading.History, null,
                    limit, "", null, null, "");
                foreach (var (report, month) in window.Reading.Months.Index())
                {
                    var (counts, given) = (Month(alone, at, report), decides.CountsAlone is null ? null : Month(decides, at, report));
                    yield return new(measure.Measure.Id, window.Of(report).ToString(), "report", month.Count, counts?.LogOdds, limit,
                        Word(counts?.State ?? alone.State), Six(given?.Expected), Six(given?.LogOdds), decides.CountsAlone is null
                            ? ""
                            : Word(given?.State ?? decides.State));
                }
            }
        }
    }

    private static ChangeMonth? Month(MeasureSignal signal, int window, int report) =>
        window < signal.Windows.Length ? signal.Windows[window].Reading.Months[report] : null;

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
                yield return new(measure.Measure.Id, CountRow.All, CountRow.All, Statistics.ChangeOdds.Method + mix
                    + (of.Withheld == Withheld.No ? "" : "_withheld"), window.Of(change.Start.From), window.Of(change.Report),
                    of.FalseAlarm, Statistics.ChangeOdds.Source);
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
