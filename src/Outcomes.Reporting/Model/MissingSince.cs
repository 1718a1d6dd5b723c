using Outcomes.Records;

namespace Outcomes.Reporting.Model;

/// <summary>How many records of a month have a value of a field.</summary>
public readonly record struct MonthKnown(Month Month, long Known, long Of)
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

    /// <summary>
    /// The latest month in which the missing share rose by more than 30 points and stayed up, else the first of the months in which it
    /// is above 20 % and has been ever since; null when it is not. Months with fewer than five records asked say nothing.
    /// </summary>
    /// <param name="months">In order of time.</param>
    public static MissingSince? Of(IEnumerable<MonthKnown> months)
    {
        var told = months.Where(month => month.Of >= Fewest).ToArray();
        if (told.Length == 0 || told[^1].Missing <= Often)
            return null;
        for (var i = told.Length - 1; i > 0; i--)
            if (told[i..].All(month => month.Missing - told[i - 1].Missing > Rise))
                return new(told[i].Month, FromTheStart: false);
        var first = told.Length - 1;
        while (first > 0 && told[first - 1].Missing > Often)
            first--;
        return new(told[first].Month, first == 0);
    }
}
