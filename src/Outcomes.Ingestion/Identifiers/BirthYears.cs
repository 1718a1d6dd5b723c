namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Tells a column of dates of birth from one of events by the spread of its years: people of many ages are treated in one year, but
/// what is done, written down or checked for them happens within days.
/// </summary>
public static class BirthYears
{
    private const int OldestAge = 115;

    /// <summary>
    /// True when the years are those of births of people of all ages: <see cref="MayBe"/>, and the middle 80 in 100 span 15 years or more.
    /// </summary>
    /// <param name="years">How many dates of the column fall in each year.</param>
    /// <param name="events">The same of the day of the event; all zero where it is not known.</param>
    public static bool Are(ReadOnlySpan<int> years, ReadOnlySpan<int> events) =>
        MayBe(years, events) && At(years, 90) - At(years, 10) >= 15;

    /// <summary>
    /// True when the years may be those of births: six different ones or more; nine in ten at most 115 years before the last event and
    /// not after it (two digits for a year put the oldest into the next century); and half more than a year before the first event.
    /// Where events are not known, the last date of the column stands for them.
    /// </summary>
    /// <remarks>
    /// First and last event are the 2nd and 98th percentile, so that one wrong date changes nothing. Children born in the years of the
    /// export cannot be told from events.
    /// </remarks>
    public static bool MayBe(ReadOnlySpan<int> years, ReadOnlySpan<int> events)
    {
        long all = 0, possible = 0, before = 0;
        var different = 0;
        foreach (var count in years)
        {
            all += count;
            if (count > 0) different++;
        }

        if (different < 6) return false;
        var known = events.ContainsAnyExcept(0);
        var to = At(known ? events : years, 98);
        var from = known ? At(events, 2) : to;
        for (var i = Math.Max(0, to - OldestAge); i <= to && i < years.Length; i++)
        {
            possible += years[i];
            if (i < from - 1) before += years[i];
        }

        return possible * 10 >= all * 9 && before * 2 >= all;
    }

    /// <summary>
    /// True when the middle one of the dates lies two months or more before the middle event: infants are born months before they are
    /// treated, and what belongs to the treatment happens within days. Last year's services of a device lie so too.
    /// </summary>
    public static bool LieBefore(ReadOnlySpan<int> months, ReadOnlySpan<int> events) =>
        events.ContainsAnyExcept(0) && months.ContainsAnyExcept(0) && At(events, 50) - At(months, 50) >= 2;

    // The index below which the given share of the counts lies.
    private static int At(ReadOnlySpan<int> counts, int percent)
    {
        long all = 0, below = 0;
        foreach (var count in counts) all += count;
        for (var i = 0; i < counts.Length; i++)
            if ((below += counts[i]) * 100 >= all * percent)
                return i;
        return counts.Length - 1;
    }
}
