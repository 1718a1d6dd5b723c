using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>runcharts.csv</c>.</summary>
/// <param name="Measure">The measure's id.</param>
/// <param name="Stratum"><c>all</c> or a field.</param>
/// <param name="Level"><c>all</c>, a value, or <c>(missing)</c>.</param>
/// <param name="From">First month of the chart.</param>
/// <param name="To">Last month of the chart.</param>
/// <param name="Chart">The chart.</param>
internal sealed record RunChartsRow(string Measure, string Stratum, string Level, Month From, Month To, RunChart Chart);

/// <summary><c>runcharts.csv</c>: what the run rules found on each chart.</summary>
internal static class RunChartsTable
{
    public static readonly CsvTable<RunChartsRow> Table = new CsvTable<RunChartsRow>(
        "tables/runcharts.csv",
        "Run charts: median, useful points, longest run and crossings with their limits",
        "One row is one phase of a measure's run chart. A declared change starts a new phase.")
        .Measure(row => row.Measure).Stratum(row => row.Stratum).Level(row => row.Level)
        .Month("from", "First month of the phase.", row => row.From)
        .Month("to", "Last month of the phase.", row => row.To)
        .Decimal(SharedColumns.Fraction("median", "Median of the baseline's points, from 0 to 1; empty where the baseline has none."),
            row => row.Chart.Median)
        .Number("points", "Points with a value. A point is a month, or a quarter where months have too few cases.",
            row => row.Chart.Points.Count(point => point.Value is not null))
        .Number("useful", "Points that do not lie on the median.", row => row.Chart.Useful)
        .Number("longest_run", "Number of points in the longest run on one side of the median.", row => row.Chart.LongestRun)
        .Number("run_limit", "A longer run than this is a signal.", row => row.Chart.RunLimit)
        .Number("crossings", "Number of times that the line crosses the median.", row => row.Chart.Crossings)
        .Number("crossings_limit", "Fewer crossings than this are a signal.", row => row.Chart.CrossingsLimit)
        .YesNo("tested", "Whether the run rules were applied. With too few cases or points the chart is drawn and not tested.",
            row => row.Chart.Untested == Untested.No);
}
