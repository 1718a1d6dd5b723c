using Outcomes.Statistics;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.Monthly;

/// <summary>
/// One department's luck: histories of twelve months, and for each how many of its futures have a signal though nothing changes.
/// </summary>
internal static class OwnHistories
{
    public const string Part = "by department", Drawn = "histories as drawn", Even = "histories drawn evenly by their rate";

    public const int FewHistories = 200, ManyFutures = 1_000, ManyHistories = 3_200, FewFutures = 100;

    /// <summary>Of so many histories drawn, in the order of their rates, one is followed.</summary>
    private const int Pool = 10;

    private static readonly int Months = MonthlyTestOptions.Joint.LeastHistoryMonths;

    /// <summary>Few histories with many futures: these tell small chances well.</summary>
    public static ConditionRow Few(MonthlyWalk walk, double volume, double correlation, double rate, int histories, int futures)
    {
        var seed = Seeds.Of(ConditionStudy.Seed, 3_000, volume, correlation, rate);
        return Follow(walk, [.. Draw(volume, correlation, rate, histories, seed)], (volume, correlation, rate), futures, ManyFutures,
            Seeds.Of(seed, 1)) with
        {
            Condition = Drawn,
            Seed = seed,
        };
    }

    /// <summary>
    /// Many histories with few futures: these tell how histories differ. Every tenth in the order of their rates (a systematic sample), so
    /// that luck in the draw of histories counts for less.
    /// </summary>
    public static ConditionRow Many(MonthlyWalk walk, double volume, double correlation, double rate, int histories)
    {
        var seed = Seeds.Of(ConditionStudy.Seed, 4_000, volume, correlation, rate);
        EventCount[][] sorted = [.. Draw(volume, correlation, rate, histories * Pool, seed).OrderBy(history =>
        {
            var all = history.Aggregate(default(EventCount), EventCount.Add);
            return (double)all.Events / Math.Max(1, all.Cases);
        })];
        return Follow(walk, [.. sorted.Where((_, i) => i % Pool == Pool / 2)], (volume, correlation, rate), FewFutures, FewFutures,
            Seeds.Of(seed, 1)) with
        {
            Condition = Even,
            Seed = seed,
        };
    }

    private static IEnumerable<EventCount[]> Draw(double volume, double correlation, double rate, int histories, ulong seed)
    {
        var draws = new MonthlyDraws(volume, [.. Enumerable.Repeat(rate, Months)], correlation, seed);
        for (var index = 0; index < histories; index++)
        {
            var months = new EventCount[Months];
            draws.Draw(index, months);
            yield return months;
        }
    }

    // Each history's own futures are numbered from its place times the full number, so that fewer of them are the first ones.
    private static ConditionRow Follow(MonthlyWalk walk, EventCount[][] histories, (double Volume, double Correlation, double Rate) cell,
        int futures, int full, ulong seed)
    {
        var draws = new MonthlyDraws(cell.Volume, [.. Enumerable.Repeat(cell.Rate, Truth.Horizon)], cell.Correlation, seed);
        var months = new EventCount[Truth.Horizon];
        var start = new LevelFilter(MonthlyTestOptions.Joint);
        var counts = new int[histories.Length];
        foreach (var (at, history) in histories.Index())
        {
            if (history.Sum(month => month.Cases) < MonthlyTestOptions.Joint.LeastHistoryCases)
                continue;
            walk.Begin(history);
            start.Follow(walk.Filter);
            var early = walk.Early!.Save();
            for (var future = 0; future < futures; future++)
            {
                walk.Filter.Follow(start);
                walk.Early.Restore(early);
                draws.Draw((at * full) + future, months);
                foreach (var month in months)
                    if (walk.Take(month) is not null)
                    {
                        counts[at]++;
                        break;
                    }
            }
        }
        return new(Part, cell.Volume, Months, cell.Correlation, "", StableAndChanged.Name(cell.Rate), [.. counts], futures, seed);
    }
}
