using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>How many records of a month have a value of a field.</summary>
public sealed record MonthKnown(Month Month, long Known, long Of)
{
    public double Missing => 1 - (Known / (double)Of);
}

/// <summary>Since when a field has been missing.</summary>
/// <param name="Month">The first such month.</param>
/// <param name="FromTheStart">True when there was no better month before it.</param>
public readonly record struct MissingSince(Month Month, bool FromTheStart)
{
    private const long Fewest = 5;
    private const double Often = 0.2;
    private const double Rise = 0.3;

    // Some fifty fields are looked at in every report: at the usual one in twenty, two or three would be told a story of chance each month.
    private const double Chance = 0.001;

    /// <summary>
    /// The latest month in which the missing share rose by more than 30 points and stayed up, else the first of the months in which it
    /// is above 20 % and has been ever since; null when it is not, or when chance explains as much: since then against all months before,
    /// Fisher's exact test, 1 in 1,000. Months with fewer than five records asked say nothing.
    /// </summary>
    /// <param name="months">In order of time.</param>
    public static MissingSince? Of(IEnumerable<MonthKnown> months)
    {
        var told = months.Where(month => month.Of >= Fewest).ToArray();
        if (told.Length == 0 || told[^1].Missing <= Often)
            return null;
        for (var i = told.Length - 1; i > 0; i--)
            if (told[i..].All(month => month.Missing - told[i - 1].Missing > Rise) && BeyondChance(told, i))
                return new(told[i].Month, FromTheStart: false);
        var first = told.Length - 1;
        while (first > 0 && told[first - 1].Missing > Often)
            first--;
        return first == 0 || BeyondChance(told, first) ? new(told[first].Month, first == 0) : null;
    }

    private static bool BeyondChance(MonthKnown[] told, int from) =>
        FisherExact.Test(Blank(told[from..]), Blank(told[..from])) is { Greater: < Chance };

    private static Count Blank(MonthKnown[] months) => new(months.Sum(month => month.Of - month.Known), months.Sum(month => month.Of), 0);
}
