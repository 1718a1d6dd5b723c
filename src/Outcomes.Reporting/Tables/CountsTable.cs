using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>counts.csv</c>.</summary>
/// <param name="Measure">The measure's id.</param>
/// <param name="Period">ISO 8601 month (<c>2026-03</c>) or interval of months (<c>2025-04/2026-03</c>).</param>
/// <param name="Stratum"><c>all</c> or a field.</param>
/// <param name="Level"><c>all</c>, a value, or <c>(missing)</c>.</param>
/// <param name="Count">Met, eligible and missing.</param>
internal sealed record CountsRow(string Measure, string Period, string Stratum, string Level, Count Count);

/// <summary><c>counts.csv</c>: what everything else is worked out from.</summary>
internal static class CountsTable
{
    public static readonly CsvTable<CountsRow> Table = new CsvTable<CountsRow>(
        "tables/counts.csv",
        "Met, eligible and missing by measure, month and stratum level, and for the whole period",
        "One row is one measure, period and stratum level; months without cases are included. Counts of different months add.")
        .Measure(row => row.Measure).Period(row => row.Period).Stratum(row => row.Stratum).Level(row => row.Level).Count(row => row.Count)
        .With(schema => schema with { Key = ["measure", "period", "stratum", "level"] });
}
