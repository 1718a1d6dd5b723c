using Outcomes.Analysis;
using Outcomes.Measures;

namespace Outcomes.Reporting.Tables;

/// <summary>The tables of figures: counts, values, estimates, run charts, signals.</summary>
public static class FigureTables
{
    public static void Write(Func<string, string> path, DepartmentCounts department, Figures figures)
    {
        var charts = figures.Measures.Where(measure => measure.RunChart is not null).ToArray();
        OutputTables.Counts(path("tables/counts.csv"),
            CountTable.Rows(department).Select(row => new CountsRow(row.Measure, row.Period, row.Stratum, row.Level, row.Count)));
        OutputTables.Estimates(path("tables/estimates.csv"), CountTable.Rows(department).Select(row =>
            new EstimatesRow(row.Measure, row.Period, row.Stratum, row.Level, row.Count, row.Estimate)));
        OutputTables.RunCharts(path("tables/runcharts.csv"), charts.SelectMany(measure => measure.Phases.Select(phase =>
            new RunChartsRow(measure.Measure.Id, CountRow.All, CountRow.All, SignalTables.From(phase, measure, figures),
                SignalTables.To(phase, figures), phase))));
        OutputTables.Signals(path("tables/signals.csv"), SignalTables.Signals(figures));
        OutputTables.ChangeOdds(path("tables/change_odds.csv"), SignalTables.ChangeOdds(figures));
        if (figures.Capture is { } capture)
            OutputTables.Capture(path("tables/capture.csv"), capture.Sites.Concat(capture.Year is { } year ? [year] : [])
                .Concat(capture.Months));
        if (!figures.Changes.IsEmpty)
            ChangeTable.Write(path("tables/changes.csv"), figures.Changes);
        if (!figures.RareEvents.IsEmpty && figures.Audience == Audience.Department)
            RareEventsTable.Write(path("tables/rare_events.csv"), figures.RareEvents);
        if (figures is { Audience: Audience.Department, ControlCharts.Charts.IsEmpty: false })
            ControlChartsTable.Write(path("tables/controlcharts.csv"), figures.ControlCharts.Charts);
        if (figures.Audience == Audience.Department && figures.Sections.Any(section => !section.Agreements.IsEmpty))
            AgreementTable.Write(path("tables/agreement.csv"), figures.Sections.SelectMany(section => section.Agreements));
        if (figures.Sections.Any(section => !section.Measures.IsEmpty))
            StrataTables.Write(path("tables/strata.csv"), figures.Sections);
        if (figures.Sections.Any(question => !question.Differences.IsEmpty || !question.Trends.IsEmpty))
            StrataTables.Comparisons(path("tables/comparisons.csv"), figures.Sections);
        if (!figures.Sites.IsEmpty)
            FunnelTable.Write(path("tables/funnel.csv"), figures.Sites);
        if (!figures.CaseMix.IsEmpty)
        {
            CaseMixTables.Models(path("tables/casemix.csv"), figures.CaseMix);
            CaseMixTables.Expected(path("tables/expected.csv"), figures.CaseMix);
        }

        if (figures.Measures.Any(measure => measure.YearQuantity is not null))
            QuantitiesTable.Write(path("tables/quantities.csv"), figures);
        OutputTables.Values(path("tables/values.csv"), Values(department));
    }

    // Values of one quantity, month and level; a missing value is no value and has no row.
    private static IEnumerable<ValuesRow> Values(DepartmentCounts department) =>
        department.Values.Rows.Where(row => row.Value is not null && row.Month >= department.Book.First
            && row.Month <= department.Book.Last)
            .Select(row => new ValuesRow(row.Measure, row.Month.ToString(), row.Stratum, row.Level, row.Value!.Value, row.N));
}
