using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary><c>capture.csv</c>: records against independent counts; without any procedure counted the ratio's cells are empty.</summary>
internal static class CaptureTable
{
    public static readonly CsvTable<CaptureRatio> Table = new CsvTable<CaptureRatio>(
        "tables/capture.csv",
        "Records over an independent count of the same procedures, by month, by site and for the last 12 months",
        "One row is one period and site.")
        .Period(row => row.From == row.To ? row.From.ToString() : $"{row.From}/{row.To}")
        .Site(row => row.Site.Length == 0 ? "all" : row.Site)
        .Number("records", "Records of the months that have an independent count.", row => row.Records)
        .Number("counted", "Procedures in the independent count.", row => row.Counted)
        .Number("months_counted", "Months of the period that have an independent count.", row => row.MonthsCounted)
        .Interval("Records over procedures counted; empty where none were counted. Above 1, and without an interval, "
            + "where more were recorded "
            + "than counted.", Ratio)
        .Method(row => Ratio(row).Method)
        .Word("source", "Where the independent count comes from, as the pipeline says.", row => row.Source)
        .With(schema => schema with { AskedBy = "capture", Key = ["period", "site"] });

    private static IntervalCells Ratio(CaptureRatio row)
    {
        var interval = row.Interval;
        return IntervalCells.Of(row.Value, interval, interval is null ? null : Wilson.Method);
    }
}
