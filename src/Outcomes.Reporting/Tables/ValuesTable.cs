namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>values.csv</c>: how many records have this value.</summary>
internal sealed record ValuesRow(string Measure, string Period, string Stratum, string Level, double Value, long N);

/// <summary><c>values.csv</c>: quantities as counts, which add, so that quantiles of any period come from them.</summary>
internal static class ValuesTable
{
    public static readonly CsvTable<ValuesRow> Table = new CsvTable<ValuesRow>(
        "tables/values.csv",
        "Quantities by value, by month and stratum level; quantiles come from them",
        "One row is one value of a quantity in one month and stratum level. Counts of different months add. Records without a value have "
        + "no row.")
        .Measure(row => row.Measure).Period(row => row.Period).Stratum(row => row.Stratum).Level(row => row.Level)
        .Decimal(
            new("value", ColumnType.Number, "The value, in the measure's unit; `outcomes describe ID` names it.")
            { Required = true },
            row => row.Value)
        .Number("n", "Number of records with this value.", row => row.N)
        .With(schema => schema with { Key = ["measure", "period", "stratum", "level", "value"] });
}
