using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// Rules about the records of a month or quarter together, from counts alone. Each is a reason to ask, never a proof: they change
/// nothing that is counted. Sites are judged apart where they are given. Below <see cref="Fewest"/> known values nothing is said.
/// </summary>
public static class SiteMonthRules
{
    public const int Fewest = 20;
    public const int FewestWithoutComplication = 30;

    private static readonly string[] RoundSaturations = ["80", "85", "90"];

    /// <summary>
    /// More than 40 % of a quarter's lowest saturations at exactly 80, 85 or 90: read from memory rather than from the monitor. Were one in
    /// five of them truly so, at most 2.1 % of quarters would show it by chance (binomial, 22 values; fewer as values grow).
    /// </summary>
    public static IEnumerable<SiteMonth> DigitPreference(string column, IEnumerable<LevelCount> levels) =>
        from site in BySite(levels, months: 3)
        from quarter in site.GroupBy(row => (row.Month.Year, Quarter: ((row.Month.Number - 1) / 3) + 1))
        let known = quarter.Sum(row => row.Records)
        let round = quarter.Where(row => RoundSaturations.Contains(row.Level)).Sum(row => row.Records)
        where known >= Fewest && round * 100 > known * 40
        orderby quarter.Key, site.Key.Site
        select new SiteMonth(SiteMonth.DigitPreference, column, site.Key,
            new Month(quarter.Key.Year, (3 * quarter.Key.Quarter) - 2), round, known);

    /// <summary>
    /// More than 60 % of a month's lowest saturations at 100: a default left standing, or only uneventful cases entered. Were 35 % of them
    /// truly so, at most 1.1 % of months would show it by chance (binomial, 21 values; fewer as values grow).
    /// </summary>
    public static IEnumerable<SiteMonth> AlwaysHundred(string column, IEnumerable<LevelCount> levels) =>
        from site in BySite(levels, months: 1)
        from month in site.GroupBy(row => row.Month)
        let known = month.Sum(row => row.Records)
        let hundred = month.Where(row => row.Level == "100").Sum(row => row.Records)
        where known >= Fewest && hundred * 100 > known * 60
        orderby month.Key, site.Key.Site
        select new SiteMonth(SiteMonth.PerfectSaturation, column, site.Key, month.Key, hundred, known);

    /// <summary>
    /// No complication in a month of 30 or more known records. Where one in ten has any, at most 4.3 % of months show it by chance
    /// (0.9 to the power of the number of records).
    /// </summary>
    /// <param name="column">The column to be named.</param>
    /// <param name="none">Records by whether there was no complication: levels <c>true</c> and <c>false</c>.</param>
    public static IEnumerable<SiteMonth> NoComplication(string column, IEnumerable<LevelCount> none) =>
        from site in BySite(none, months: 1)
        from month in site.GroupBy(row => row.Month)
        let known = month.Sum(row => row.Records)
        where known >= FewestWithoutComplication && month.All(row => row.Level == "true")
        orderby month.Key, site.Key.Site
        select new SiteMonth(SiteMonth.NoComplication, column, site.Key, month.Key, 0, known)
        {
            HighestRate = Wilson.Interval(0, known).Upper,
            ChanceAtOneInTen = Math.Pow(0.9, known),
        };

    /// <summary>
    /// A value's share that moves by more than 30 points between one month and the next, beyond chance (the 99.9 % Newcombe interval of
    /// the difference excludes 0: with 20 records a month 30 points alone come about by accident): a form or a code was changed. Chance
    /// shows it in about one of a thousand comparisons at most (nominal; see the tests for 20 records), and there is one a value and month.
    /// </summary>
    public static IEnumerable<SiteMonth> CodeShift(string column, IEnumerable<LevelCount> levels)
    {
        foreach (var site in BySite(levels, months: 1))
            foreach (var shift in CodeShift(column, site.Key, site))
                yield return shift;
    }

    private static IEnumerable<SiteMonth> CodeShift(string column, SiteGroup site, IEnumerable<LevelCount> levels)
    {
        var months = levels.GroupBy(row => row.Month).OrderBy(group => group.Key)
            .Select(group => (Month: group.Key, Known: group.Sum(row => row.Records),
                Levels: group.GroupBy(row => row.Level!).ToDictionary(same => same.Key, same => same.Sum(row => row.Records))))
            .Where(month => month.Known >= Fewest).ToArray();
        for (var i = 1; i < months.Length; i++)
        {
            var (before, after) = (months[i - 1], months[i]);
            if (after.Month.MonthsSince(before.Month) != 1)
                continue;
            foreach (var level in before.Levels.Keys.Union(after.Levels.Keys).Order(StringComparer.Ordinal))
            {
                var (was, now) = (before.Levels.GetValueOrDefault(level), after.Levels.GetValueOrDefault(level));
                // Exact in whole numbers: |now/after - was/before| > 30/100.
                if (Math.Abs((now * before.Known) - (was * after.Known)) * 100 <= 30 * before.Known * after.Known)
                    continue;
                var difference = Difference.Newcombe(new Count(now, after.Known, 0), new Count(was, before.Known, 0), 0.999)!;
                if (difference.Lower <= 0 && difference.Upper >= 0)
                    continue;
                yield return new SiteMonth(SiteMonth.CodeShift, column, site, after.Month, now, after.Known)
                {
                    Level = level,
                    Before = (was, before.Known),
                };
            }
        }
    }

    // Each site that usually has enough known values in so many months by itself; the others, and records without a site, together.
    private static IEnumerable<IGrouping<SiteGroup, LevelCount>> BySite(IEnumerable<LevelCount> levels, int months)
    {
        var known = levels.Where(row => row.Level is not null).ToArray();
        if (known.Select(row => row.Site).Distinct().Count() < 2)
            return known.GroupBy(_ => SiteGroup.All);
        var alone = known.Where(row => row.Site is not null).GroupBy(row => row.Site!)
            .Where(site => site.Sum(row => row.Records) * months >= Fewest * site.Select(row => row.Month).Distinct().Count())
            .Select(site => site.Key).ToHashSet(StringComparer.Ordinal);
        return known.GroupBy(row => row.Site is { } site && alone.Contains(site) ? new SiteGroup(site) : SiteGroup.Others);
    }
}
