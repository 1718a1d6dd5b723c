using Outcomes.Analysis;
using Outcomes.Measures;

namespace Outcomes.Reporting.Tables;

/// <summary>The tables of figures: counts, values, estimates, run charts, signals.</summary>
public static class FigureTables
{
    public static void Write(Func<string, string> path, DepartmentCounts department, Figures figures)
    {
        ArgumentNullException.ThrowIfNull(figures);
        var rows = CountTable.Rows(department);
        CountsTable.Table.Write(path, rows.Select(row => new CountsRow(row.Measure, row.Period, row.Stratum, row.Level, row.Count)));
        EstimatesTable.Table.Write(path, rows.Select(row =>
            new EstimatesRow(row.Measure, row.Period, row.Stratum, row.Level, row.Count, row.Estimate)));
        ValuesTable.Table.Write(path, Values(department));
        RunChartsTable.Table.Write(path, figures.Measures.Where(measure => measure.RunChart is not null).SelectMany(measure =>
            measure.Phases.Select(phase => new RunChartsRow(measure.Measure.Id, CountRow.All, CountRow.All,
                ChartRows.From(phase, measure, figures), ChartRows.To(phase, figures), phase))));
        MonthlyTestTable.Table.Write(path, ChartRows.MonthlyTests(figures));
        if (figures.Capture is { } capture)
            CaptureTable.Table.Write(path, capture.Sites.Concat(capture.Year is { } year ? [year] : []).Concat(capture.Months));
        if (!figures.Changes.IsEmpty)
            ChangesTable.Write(path, figures.Changes);
        if (figures.Sections.Any(section => !section.Measures.IsEmpty))
            StrataTable.Write(path, figures.Sections);
        if (figures.Sections.Any(section => !section.Differences.IsEmpty || !section.Trends.IsEmpty))
            ComparisonsTable.Write(path, figures.Sections);
        if (!figures.Sites.IsEmpty)
            FunnelTable.Write(path, figures.Sites);
        if (!figures.CaseMix.IsEmpty)
        {
            CaseMixTable.Write(path, figures.CaseMix);
            ExpectedTable.Write(path, figures.CaseMix);
            if (figures.CaseMix.Any(model => model.Challenger is not null))
                ChallengerTable.Write(path, figures.CaseMix);
        }

        if (figures.Measures.Any(measure => measure.YearQuantity is not null))
            QuantitiesTable.Write(path, figures);
        if (figures.Audience == Audience.Department)
            WriteForDepartment(path, figures);
    }

    // They tell small numbers by month, or the places of single cases.
    private static void WriteForDepartment(Func<string, string> path, Figures figures)
    {
        VerdictsTable.Write(path, figures);
        YearTable.Write(path, figures);
        if (!figures.Flows.IsEmpty)
            FlowTable.Write(path, figures);
        if (!figures.Harm.IsEmpty)
            HarmTable.Write(path, figures);
        if (!figures.RareEvents.IsEmpty)
            RareEventsTable.Write(path, figures.RareEvents);
        if (figures.ControlCharts is { Charts.IsEmpty: false } charts)
            ControlChartsTable.Write(path, charts.Charts);
        if (figures.Sections.Any(section => !section.Agreements.IsEmpty))
            AgreementTable.Write(path, figures.Sections.SelectMany(section => section.Agreements));
    }

    // Values of one quantity, month and level; a missing value is no value and has no row.
    private static IEnumerable<ValuesRow> Values(DepartmentCounts department)
    {
        var scales = department.Plan.Definitions.Measures.ToDictionary(measure => measure.Id, measure => (double)measure.Scale);
        return department.Values.Rows.Where(row => row.Value is not null && row.Month >= department.Book.First
            && row.Month <= department.Book.Last)
            .Select(row => new ValuesRow(row.Measure, row.Month.ToString(), row.Stratum, row.Level,
                row.Value!.Value / scales[row.Measure], row.N));
    }
}
