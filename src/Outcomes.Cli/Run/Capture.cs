using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Ingestion;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Model;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Run;

/// <summary>Records against independent counts, month by month and for the last 12 months.</summary>
public static class Capture
{
    public const string SiteField = "site_code";

    /// <summary>The capture from the first month to the report month.</summary>
    /// <param name="counts">What somebody else counted.</param>
    /// <param name="records">Accepted records by month.</param>
    /// <param name="sites">Accepted records by month and site.</param>
    /// <param name="yearFrom">First of the last 12 months.</param>
    /// <param name="month">The report month; later counts are not used.</param>
    public static CaptureReport Of(
        IndependentCounts counts, IReadOnlyDictionary<Month, long> records, IEnumerable<LevelCount> sites, Month yearFrom, Month month)
    {
        var bySite = sites.Where(row => row.Level is not null).ToDictionary(row => (row.Month, row.Level!), row => row.Records);
        var used = counts.Counts.Where(count => count.Month <= month).ToArray();
        var year = used.Where(count => count.Month >= yearFrom).ToArray();
        return new CaptureReport(
            counts.File,
            year.Length == 0 ? null : Ratio(yearFrom, month, "", year),
            [.. used.GroupBy(count => count.Month).OrderBy(group => group.Key).Select(group => Ratio(group.Key, group.Key, "", [.. group]))],
            counts.HasSites ? [.. year.GroupBy(count => count.Site).OrderBy(group => group.Key, StringComparer.Ordinal).Select(group => Ratio(yearFrom, month, group.Key, [.. group]))] : []);

        // Only records of months (and sites) that have a count stand above it.
        CaptureRatio Ratio(Month from, Month to, string site, MonthlyCount[] rows) => new(
            from, to, site,
            rows.Sum(row => counts.HasSites ? bySite.GetValueOrDefault((row.Month, row.Site)) : records.GetValueOrDefault(row.Month)),
            rows.Sum(row => row.Number), rows.Select(row => row.Month).Distinct().Count(),
            string.Join("; ", rows.Select(row => row.Source).Distinct()));
    }

    /// <summary>What the engine is asked for the sites of a file of counts.</summary>
    public static IReadOnlyList<LevelCount> Sites(IndependentCounts counts, Engine engine) => counts.HasSites ? engine.Levels(SiteField) : [];

    /// <summary>Months that captured less than 80 %, or more than was counted: findings to look at, at the count's line.</summary>
    public static IEnumerable<Finding> Findings(IndependentCounts counts, CaptureReport report)
    {
        foreach (var month in report.Months.Where(month => month.Counted > 0 && (month.Low || month.High)))
            yield return new Finding(
                month.Low ? "capture_low" : "capture_high", Severity.Warn, counts.File, counts.Counts.First(count => count.Month == month.From).Line, "count", "",
                string.Create(CultureInfo.InvariantCulture, $"{month.From}: {month.Records} records of {month.Counted} counted ({month.Source}). ")
                + (month.Low
                    ? "Fewer than 80 % were recorded; ask who was not entered before reading the month's figures."
                    : "More were recorded than counted; check the count, and records that are double or belong to another month or place."));
    }

    /// <summary>The table of ratios.</summary>
    public static void Write(OutputFolder output, CaptureReport report) => OutputTables.Capture(
        output.PathOf("tables/capture.csv"), report.Sites.Concat(report.Year is { } year ? [year] : []).Concat(report.Months));
}
