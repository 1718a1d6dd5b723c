using System.Globalization;
using Outcomes.Statistics;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.Monthly;

/// <summary>How often the ranges of the level now, and of the month of a change, hold the truth.</summary>
internal static class LevelStudy
{
    private const double Correlation = 0.02;
    private const int History = 24, Reports = 30;

    /// <summary>The level of the last month, after a doubling so many months ago; 0: never.</summary>
    public static IEnumerable<MonthlyRow> Level(double volume, int ago, int departments, ulong seed)
    {
        var (changes, now) = (ago == 0 ? int.MaxValue : History + Reports - ago, ago == 0 ? 0.15 : 0.30);
        var from = Seeds.Of(seed, volume, ago, 2_000);
        double[] rates = [.. Enumerable.Range(0, History + Reports).Select(month => month < changes ? 0.15 : 0.30)];
        var draws = new MonthlyDraws(volume, rates, Correlation, from);
        var walk = new MonthlyWalk(MonthlyTestOptions.Joint);
        var months = new EventCount[History + Reports];
        var (in80, in95) = (0, 0);
        for (var index = 0; index < departments; index++)
        {
            draws.Draw(index, months);
            walk.Begin(months.AsSpan(0, History));
            foreach (var month in months.AsSpan(History))
                walk.Take(month);
            var level = LevelDistribution.Estimate(walk.Filter.Copy(), walk.Likelihood);
            in80 += level.Likely80.Lower <= now && now <= level.Likely80.Upper ? 1 : 0;
            in95 += level.Likely95.Lower <= now && now <= level.Likely95.Upper ? 1 : 0;
        }
        var figure = ago == 0 ? "stable" : string.Create(CultureInfo.InvariantCulture, $"doubled {ago} months ago");
        yield return new("level", volume, "24", Correlation, "80 % range", figure, in80, departments, from);
        yield return new("level", volume, "24", Correlation, "95 % range", figure, in95, departments, from);
    }

    /// <summary>Whether the months of change of a first signal, of its right way, hold the true month: 15 to 30 % in month 13.</summary>
    public static IEnumerable<MonthlyRow> Start(double volume, int departments, ulong seed)
    {
        var truth = Truth.All[1];
        var from = Seeds.Of(seed, volume, 3_000);
        var draws = new MonthlyDraws(volume, truth.Rates(History), 0, from);
        var months = new EventCount[History + truth.Reports];
        var (held, near, signals) = (0, 0, 0);
        for (var index = 0; index < departments; index++)
        {
            draws.Draw(index, months);
            if (MonthlyTest.Run([.. months], History).Signals is not [{ ForTheWorse: true } signal, ..]
                || signal.Month < History + truth.From)
                continue;
            var (start, month) = (signal.Start, History + truth.From);
            signals++;
            held += start.From <= month && month <= start.To ? 1 : 0;
            near += Math.Abs(start.Likeliest - month) <= 2 ? 1 : 0;
        }
        yield return new("start", volume, "24", 0, SignalTests.Joint, "true month in the range", held, signals, from);
        yield return new("start", volume, "24", 0, SignalTests.Joint, "likeliest month within 2", near, signals, from);
    }
}
