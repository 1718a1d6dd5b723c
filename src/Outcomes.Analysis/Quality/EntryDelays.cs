using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>How complete the last months are, by the records' own delays of entry.</summary>
public static class EntryDelays
{
    /// <summary>The field: hours from the procedure to its entry.</summary>
    public const string Field = "entry_delay_h";

    // Old enough to have been entered, recent enough to be the present way of working; fewer records are no distribution. Judgement.
    private const int YoungestMonths = 6, OldestMonths = 30, LeastRecords = 40, HoursADay = 24;

    /// <summary>
    /// The last months of which less than nine in ten records are expected to be entered, in order of time: of each day the share of earlier
    /// records whose delay was no longer than the time since (days are taken at noon, entries until the end of the reference date). Earlier
    /// records are those of months that ended 6 to 30 months ago, at least 40 of them; with fewer nothing is said.
    /// </summary>
    /// <param name="delays">Records by month and delay, as tables write numbers.</param>
    /// <param name="records">Accepted records by month.</param>
    /// <param name="last">The report month.</param>
    /// <param name="asOf">The reference date.</param>
    public static ImmutableArray<EntryCompleteness> FindProvisional(
        IEnumerable<LevelCount> delays, IReadOnlyDictionary<Month, long> records, Month last, DateOnly asOf)
    {
        ArgumentNullException.ThrowIfNull(records);
        var now = Month.Of(asOf);
        var known = delays.Where(row => row.Level is not null && now.MonthsSince(row.Month) is > YoungestMonths and <= OldestMonths)
            .Select(row => (Hours: double.Parse(row.Level!, CultureInfo.InvariantCulture), row.Records)).ToArray();
        var all = known.Sum(row => row.Records);
        if (all < LeastRecords)
            return [];
        var found = ImmutableArray.CreateBuilder<EntryCompleteness>();
        for (var month = last; records.GetValueOrDefault(month) > 0 && Expected(month) is var expected and < EntryCompleteness.Least
            && expected > 0; month = month.AddMonths(-1))
            found.Insert(0, new(month, records[month], expected));
        return found.ToImmutable();

        double Expected(Month month)
        {
            var (sum, days) = (0.0, 0);
            for (var day = month.FirstDay; day <= month.LastDay && day <= asOf; day = day.AddDays(1), days++)
            {
                var hours = HoursADay * (asOf.DayNumber - day.DayNumber + 0.5);
                sum += known.Where(row => row.Hours <= hours).Sum(row => row.Records) / (double)all;
            }

            return days == 0 ? 0 : sum / days;
        }
    }
}
