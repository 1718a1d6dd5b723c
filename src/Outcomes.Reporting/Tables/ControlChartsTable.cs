using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>controlcharts.csv</c>: one point of a chart.</summary>
internal sealed record ControlChartsRow(ControlChartFigures Figures, ControlChart Chart, ControlPoint Point);

/// <summary>The table of control charts. It holds small numbers by month: for the department only.</summary>
internal static class ControlChartsTable
{
    public static readonly CsvTable<ControlChartsRow> Table = new CsvTable<ControlChartsRow>(
        "tables/controlcharts.csv",
        "Months of headline measures and procedures a day against the limits of the declared baseline",
        "One row is one month and method, months without a value included. For proportions numerator and denominator are met and eligible; "
        + "for procedures_a_day they are records and calendar days.")
        .Measure(row => row.Figures.Id)
        .Word("method", "Name of the chart's method.", row => row.Chart.Method)
        .Month("period", "The month.", row => row.Figures.Months[row.Point.Position].Month)
        .Number("numerator", "Numerator of the month's value.", row => row.Figures.Months[row.Point.Position].Numerator)
        .Number("denominator", "Denominator of the month's value.",
            row => row.Figures.Months[row.Point.Position].Denominator)
        .Decimal(SharedColumns.Positive("value", "The month's value; empty in a gap."), row => row.Point.Value)
        .Decimal("centre", "Centre line of the baseline.", row => row.Chart.Centre)
        .Decimal("lower", "Lower limit; empty where there is none.", row => row.Point.Lower)
        .Decimal("upper", "Upper limit; empty where there is none.", row => row.Point.Upper)
        .Decimal(SharedColumns.Positive("variation",
            "Variation between months: sigma z of p and u charts (1 is chance alone)."),
            row => row.Chart.Variation)
        .YesNo("outside", "Whether the value lies outside the limits; empty for a gap and for months of the baseline.",
            row => row.Point.InBaseline || row.Point.Value is null || (row.Point.Lower is null && row.Point.Upper is null)
                ? null
                : row.Point.Beyond)
        .Text("baseline", "First and last month of the baseline.", Baseline)
        .Doubts(row => string.Join(' ', row.Chart.Doubts.Select(ChartCautions.Name)))
        .With(schema => schema with { DepartmentOnly = true });

    public static void Write(Func<string, string> place, IEnumerable<ControlChartFigures> charts) => Table.Write(place,
        from figures in charts
        from phase in figures.Phases.Concat(figures.Wider)
        from point in phase.Chart.Points
        select new ControlChartsRow(figures, phase.Chart, point));

    private static string Baseline(ControlChartsRow row)
    {
        var inside = row.Chart.Points.Where(point => point.InBaseline).Select(point => row.Figures.Months[point.Position].Month).ToArray();
        return inside is [var from, ..] ? $"{from}/{inside[^1]}" : "";
    }
}
