using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>quantities.csv</c>.</summary>
internal sealed record QuantitiesRow(string Measure, string Period, string Stratum, string Level, double Quantile)
{
    public IntervalCells Cells { get; init; }

    public double? CoveragePct { get; init; }

    public required long N { get; init; }

    public required long Missing { get; init; }

    public required long Unrecordable { get; init; }
}

/// <summary>
/// The table of quantities: quartiles of the report month and of the last 12 months, and by the sections that split them.
/// </summary>
internal static class QuantitiesTable
{
    public static readonly CsvTable<QuantitiesRow> Table = new CsvTable<QuantitiesRow>(
        "tables/quantities.csv",
        "Medians and quartiles with their intervals, and by stratum where a section splits them",
        "Three rows a period: the quantiles 0.25, 0.5 and 0.75. With fewer than five values there are no figures. An end that too few "
        + "values bound is empty.")
        .Measure(row => row.Measure).Period(row => row.Period).Stratum(row => row.Stratum).Level(row => row.Level)
        .Decimal(SharedColumns.Fraction("quantile", "Which quantile: 0.25, 0.5 (the median) or 0.75.") with { Required = true },
            row => row.Quantile)
        .Interval("The quantile, in the measure's unit; `outcomes describe ID` names the unit.", row => row.Cells)
        .Decimal(SharedColumns.Percent("coverage_pct", "Coverage that the interval reaches; empty where an end is open."),
            row => row.CoveragePct)
        .Method(row => row.Cells.Method)
        .Number("n", "Records with a value.", row => row.N)
        .Number("missing", "Records without one.", row => row.Missing)
        .Number("unrecordable", "Records whose reading was too low to measure: below every value, and in no quantile.",
            row => row.Unrecordable);

    public static void Write(Func<string, string> place, Figures figures) => Table.Write(place, Rows(figures));

    internal static IEnumerable<QuantitiesRow> Rows(Figures figures)
    {
        var year = $"{figures.YearFrom}/{figures.Month}";
        return figures.Measures
            .SelectMany(each => Rows(each.Measure.Id, figures.Month.ToString(), CountRow.All, CountRow.All, each.ThisMonthQuantity)
                .Concat(Rows(each.Measure.Id, year, CountRow.All, CountRow.All, each.YearQuantity)))
            .Concat(
                from section in figures.Sections
                from quantity in section.Quantities
                from level in quantity.Levels
                from row in Rows(quantity.Measure.Id, StrataTable.Period(section), quantity.Field, level.Level, level.Summary)
                select row);
    }

    private static IEnumerable<QuantitiesRow> Rows(string measure, string period, string stratum, string level, QuantitySummary? summary)
    {
        // The value of one case is not a figure of the department: few values are counted alone.
        if (summary is null)
            return [];
        return summary.N < StratumFigures.LeastRecords
            ? QuantitySummary.Parts.Select(part => new QuantitiesRow(measure, period, stratum, level, part)
            {
                Cells = new(null, null, null, null, Quantiles.Method),
                N = summary.N,
                Missing = summary.Missing,
                Unrecordable = summary.Unrecordable,
            })
            : summary.Estimates.Select((estimate, i) => new QuantitiesRow(measure, period, stratum, level, QuantitySummary.Parts[i])
            {
                Cells = new(estimate.Value, estimate.Lower, estimate.Upper, estimate.Level * 100, Quantiles.Method),
                CoveragePct = estimate is { Lower: not null, Upper: not null } ? estimate.Coverage * 100 : null,
                N = estimate.N,
                Missing = summary.Missing,
                Unrecordable = summary.Unrecordable,
            });
    }
}
