namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>values.csv</c>: how many records have this whole-unit value.</summary>
internal sealed record ValuesRow(string Measure, string Period, string Stratum, string Level, long Value, long N);

/// <summary><c>values.csv</c>: quantities as counts, which add, so that quantiles of any period come from them.</summary>
internal static class ValuesTable
{
    public static readonly CsvTable<ValuesRow> Table = new CsvTable<ValuesRow>(
        "tables/values.csv",
        "Quantities by whole-unit value, by month and stratum level; quantiles come from them",
        "One row is one value of a quantity in one month and stratum level. Counts of different months add. Records without a value have "
        + "no row.")
        .Measure(row => row.Measure).Period(row => row.Period).Stratum(row => row.Stratum).Level(row => row.Level)
        .Integer(
            new("value", ColumnType.Integer, "The value, in whole units of the measure; `outcomes describe ID` names the unit.")
            { Required = true },
            row => row.Value)
        .Number("n", "Number of records with this value.", row => row.N)
        .With(schema => schema with { Key = ["measure", "period", "stratum", "level", "value"] });
}
