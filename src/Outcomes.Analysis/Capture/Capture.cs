using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

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
    public static CaptureFigures Compare(
        IndependentCounts counts, IReadOnlyDictionary<Month, long> records, IEnumerable<LevelCount> sites, Month yearFrom, Month month)
    {
        var bySite = sites.Where(row => row.Level is not null).ToDictionary(row => (row.Month, row.Level!), row => row.Records);
        var used = counts.Counts.Where(count => count.Month <= month).ToArray();
        var year = used.Where(count => count.Month >= yearFrom).ToArray();
        return new CaptureFigures(
            counts.File,
            year.Length == 0 ? null : Ratio(yearFrom, month, "", year),
            [.. used.GroupBy(count => count.Month).OrderBy(group => group.Key)
                .Select(group => Ratio(group.Key, group.Key, "", [.. group]))],
            counts.HasSites ? [.. year.GroupBy(count => count.Site).OrderBy(group => group.Key, StringComparer.Ordinal)
                .Select(group => Ratio(yearFrom, month, group.Key, [.. group]))] : []);

        // Only records of months (and sites) that have a count stand above it.
        CaptureRatio Ratio(Month from, Month to, string site, MonthlyCount[] rows) => new(
            from, to, site,
            rows.Sum(row => counts.HasSites ? bySite.GetValueOrDefault((row.Month, row.Site)) : records.GetValueOrDefault(row.Month)),
            rows.Sum(row => row.Number), rows.Select(row => row.Month).Distinct().Count(),
            string.Join("; ", rows.Select(row => row.Source).Distinct()));
    }

    /// <summary>What the engine is asked for the sites of a file of counts.</summary>
    public static IReadOnlyList<LevelCount> Sites(IndependentCounts counts, Engine engine) =>
        counts.HasSites ? engine.Levels(SiteField) : [];
}
