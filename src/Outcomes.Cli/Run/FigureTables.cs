using System.Globalization;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Model;
using Outcomes.Reporting.Tables;
using Outcomes.Statistics;

namespace Outcomes.Cli.Run;

/// <summary>The tables of figures: counts, values, estimates, run charts, signals.</summary>
public static class FigureTables
{
    public static void Write(OutputFolder output, Figures figures, ReportModel model)
    {
        var charts = model.Measures.Where(measure => measure.RunChart is not null).ToArray();
        OutputTables.Counts(output.PathOf("tables/counts.csv"), Counts(figures));
        OutputTables.Estimates(output.PathOf("tables/estimates.csv"), Counts(figures).Select(row =>
            new EstimatesRow(row.Measure, row.Period, row.Stratum, row.Level, row.Count, Proportion.Estimate(row.Count))));
        OutputTables.RunCharts(output.PathOf("tables/runcharts.csv"), charts.SelectMany(measure => measure.Phases.Select(phase =>
            new RunChartsRow(measure.Measure.Id, CountRow.All, CountRow.All, SignalTables.From(phase, measure, model), SignalTables.To(phase, model), phase))));
        OutputTables.Signals(output.PathOf("tables/signals.csv"), SignalTables.Signals(model));
        OutputTables.ChangeOdds(output.PathOf("tables/change_odds.csv"), SignalTables.ChangeOdds(model));
        if (!model.Changes.IsEmpty)
            ChangeTable.Write(output.PathOf("tables/changes.csv"), model.Changes);
        if (!model.RareEvents.IsEmpty && model.Audience == Audience.Department)
            RareEventsTable.Write(output.PathOf("tables/rare_events.csv"), model.RareEvents);
        if (model is { Audience: Audience.Department, ControlCharts.Charts.IsEmpty: false })
            ControlChartsTable.Write(output.PathOf("tables/controlcharts.csv"), model.ControlCharts.Charts);
        if (model.Audience == Audience.Department && !model.Agreements.IsEmpty)
            AgreementTable.Write(output.PathOf("tables/agreement.csv"), model.Agreements);
        if (model.StratifiedSections.Any())
            StrataTables.Write(output.PathOf("tables/strata.csv"), model.StratifiedSections);
        if (model.StratifiedSections.Any(question => !question.Differences.IsEmpty || !question.Trends.IsEmpty))
            StrataTables.Comparisons(output.PathOf("tables/comparisons.csv"), model.StratifiedSections);
        if (!model.Sites.IsEmpty)
            FunnelTable.Write(output.PathOf("tables/funnel.csv"), model.Sites);
        if (!model.CaseMix.IsEmpty)
        {
            CaseMixTables.Models(output.PathOf("tables/casemix.csv"), model.CaseMix);
            CaseMixTables.Expected(output.PathOf("tables/expected.csv"), model.CaseMix);
        }

        if (model.Measures.Any(measure => measure.YearQuantity is not null))
            QuantitiesTable.Write(output.PathOf("tables/quantities.csv"), model);
        OutputTables.Values(output.PathOf("tables/values.csv"), Values(figures));
    }

    private static IEnumerable<CountsRow> Counts(Figures figures)
    {
        var book = figures.Book;
        var months = book.First.To(book.Last).Select(month => month.ToString()).ToArray();
        var whole = string.Create(CultureInfo.InvariantCulture, $"{book.First}/{book.Last}");
        foreach (var measure in figures.Catalogue.Measures.SelectMany(Readings))
            foreach (var (stratum, level) in book.Cells(measure))
            {
                var series = book.Of(measure, stratum, level)!;
                yield return new CountsRow(measure, whole, stratum, level, book.Sum(series, book.First, book.Last));
                for (var i = 0; i < months.Length; i++)
                    yield return new CountsRow(measure, months[i], stratum, level, series.Counts[i]);
            }
    }

    // Values of one quantity, month and level; a missing value is no value and has no row.
    private static IEnumerable<ValuesRow> Values(Figures figures) =>
        figures.Values.Rows.Where(row => row.Value is not null && row.Month >= figures.Book.First && row.Month <= figures.Book.Last)
            .Select(row => new ValuesRow(row.Measure, row.Month.ToString(), row.Stratum, row.Level, row.Value!.Value, row.N));

    /// <summary>The ids under which a measure is counted: its own, and the known-only reading where an unknown counts as not done.</summary>
    public static IEnumerable<string> Readings(Measure measure) =>
        measure.Missing == MissingRule.NotDone ? [measure.Id, measure.Id + ".known"] : [measure.Id];
}
