using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// A measure whose unwelcome event is too rare for a monthly test: once a year, counted from the end of the history, the last 12 months are
/// compared with all months before.
/// </summary>
/// <param name="Due">The month of the next comparison.</param>
/// <param name="Year">The 12 months compared; null before the first comparison.</param>
/// <param name="YearCount">Met and eligible in them.</param>
/// <param name="BeforeCount">Met and eligible in all months before.</param>
/// <param name="P">Two-sided p value (Fisher's exact test); null before the first comparison and without cases.</param>
/// <param name="Level">The comparison speaks of change below it: all rare measures share 5 % a year.</param>
public sealed record RareYear(Month Due, (Month From, Month To)? Year, Count YearCount, Count BeforeCount, double? P, double Level)
{
    /// <summary>Whether the year is further from the months before than chance explains.</summary>
    public bool IsBeyondChance => P < Level;
}
