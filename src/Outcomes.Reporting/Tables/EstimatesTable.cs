using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>estimates.csv</c>; without an estimate (nothing eligible) its cells are empty.</summary>
internal sealed record EstimatesRow(
    string Measure, string Period, string Stratum, string Level, Count Count, Estimate? Estimate);

/// <summary><c>estimates.csv</c>: the proportion of every row of <c>counts.csv</c>.</summary>
internal static class EstimatesTable
{
    public static readonly CsvTable<EstimatesRow> Table = new CsvTable<EstimatesRow>(
        "tables/estimates.csv",
        "Each proportion, a fraction from 0 to 1, with its interval, method and count",
        "One row is one measure, period and stratum level, as in counts.csv.")
        .Measure(row => row.Measure).Period(row => row.Period).Stratum(row => row.Stratum).Level(row => row.Level)
        .Proportion(row => IntervalCells.Of(row.Estimate)).Method(row => row.Estimate?.Method).Count(row => row.Count)
        .With(schema => schema with { Key = ["measure", "period", "stratum", "level"] });
}
