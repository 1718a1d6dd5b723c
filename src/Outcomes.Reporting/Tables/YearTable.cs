using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>year.csv</c>.</summary>
internal sealed record YearRow(string Period, MeasureFigures Figures);

/// <summary><c>year.csv</c>: the last 12 months as pages print them, and the plain interval beside.</summary>
internal static class YearTable
{
    public static readonly CsvTable<YearRow> Table = new CsvTable<YearRow>(
        "tables/year.csv",
        "The last 12 months of each proportion as the report prints them, with the plain interval and the bounds for "
            + "missing records beside",
        "One row is one measure. Where months vary more than chance alone the interval is wider than the plain one.")
        .Measure(row => row.Figures.Measure.Id)
        .Period(row => row.Period)
        .Proportion(row => IntervalCells.Of(row.Figures.YearEstimate))
        .Method(row => row.Figures.YearEstimate?.Method)
        .Count(row => row.Figures.Year)
        .Decimal(SharedColumns.Positive("dispersion",
            "Pearson's statistic of the months over its degrees of freedom: 1 is chance alone; empty where there are none to vary."),
            row => row.Figures.YearDispersion)
        .Decimal(SharedColumns.Fraction("plain_lower", "Lower end of the plain Wilson interval."), row => row.Figures.YearPlain?.Lower)
        .Decimal(SharedColumns.Fraction("plain_upper", "Upper end of it."), row => row.Figures.YearPlain?.Upper)
        .Decimal(SharedColumns.Fraction("missing_lower", "Least proportion, whatever the missing records hold."),
            row => row.Figures.YearBounds?.Lower)
        .Decimal(SharedColumns.Fraction("missing_upper", "Greatest proportion, whatever the missing records hold."),
            row => row.Figures.YearBounds?.Upper)
        .Number("missing_decided", "Missing records whose known parts decide the answer all the same: they move neither bound.",
            row => row.Figures.YearDecided)
        .With(schema => schema with { DepartmentOnly = true, Key = ["measure"] });

    public static void Write(Func<string, string> place, Figures figures)
    {
        var period = figures.YearFrom == figures.Month ? $"{figures.Month}" : $"{figures.YearFrom}/{figures.Month}";
        Table.Write(place, figures.Measures.Where(measure => measure is { Series: not null, Measure.Kind: MeasureKind.Proportion })
            .Select(measure => new YearRow(period, measure)));
    }
}
