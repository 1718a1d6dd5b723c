using System.Runtime.CompilerServices;

namespace Outcomes.Statistics;

/// <summary>
/// What every statistic asks of its inputs. A broken one is a bug of the caller, so it is an exception with the value and the range.
/// </summary>
internal static class Requires
{
    public static void Level(double level, [CallerArgumentExpression(nameof(level))] string? name = null)
    {
        if (!(level > 0 && level < 1))
            throw new ArgumentOutOfRangeException(name, level, "a confidence level lies above 0 and below 1");
    }

    public static void Counts(
        long met,
        long eligible,
        [CallerArgumentExpression(nameof(met))] string? metName = null,
        [CallerArgumentExpression(nameof(eligible))] string? eligibleName = null)
    {
        if (eligible < 1)
            throw new ArgumentOutOfRangeException(eligibleName, eligible, "a proportion needs at least one eligible record");
        if (met < 0 || met > eligible)
            throw new ArgumentOutOfRangeException(metName, met, $"met lies between 0 and the {eligible} eligible");
    }

    public static void Counts(Count count, [CallerArgumentExpression(nameof(count))] string? name = null)
    {
        if (count.Eligible < 0 || count.Missing < 0 || count.Met < 0 || count.Met > count.Eligible)
            throw new ArgumentOutOfRangeException(name, count,
                "met lies between 0 and eligible, and eligible and missing are not negative");
    }

    /// <summary>Two or more categories that hold at least one record in all; the number of records.</summary>
    public static long Categories(IReadOnlyList<long> counts, [CallerArgumentExpression(nameof(counts))] string? name = null)
    {
        if (counts.Count < 2)
            throw new ArgumentOutOfRangeException(name, counts.Count, "shares need at least two categories");
        if (counts.Any(count => count < 0))
            throw new ArgumentOutOfRangeException(name, counts.Min(), "a category holds no fewer than 0 records");
        var total = counts.Sum();
        return total > 0 ? total : throw new ArgumentOutOfRangeException(name, total, "shares need at least one record");
    }
}
