using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Statistics;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.Monthly;

/// <summary>
/// The monthly test, as shipped, under conditions that the main study left out: missing outcomes, volumes that change, measures that go
/// together, and one department's luck with its own history. One thread.
/// </summary>
internal static class ConditionStudy
{
    /// <summary>Any number would do; this one was written down before the first run.</summary>
    public const ulong Seed = 20_261_205;

    /// <summary>Departments of a cell.</summary>
    public const int Departments = 5_400;

    public static ImmutableArray<string> Truths { get; } = ["85 > 70 % in month 13", "85 > 70 % in month 25", "relapse 21 > 10 > 25 %"];

    public static ImmutableArray<double> Correlations { get; } = [0, 0.02];

    /// <summary>Twelve months of history: the least.</summary>
    public static ImmutableArray<double> LuckVolumes { get; } = [10, 25, 50];

    public static void Write(string file, string[] rest)
    {
        var share = rest is [var number] ? double.Parse(number, CultureInfo.InvariantCulture) : 1;
        using var writer = new StreamWriter(file) { AutoFlush = true, NewLine = "\n" };
        writer.WriteLine(ConditionRow.Header);
        foreach (var row in Rows(share, Console.Error.WriteLine))
            writer.WriteLine(row.Line);
    }

    /// <param name="share">Of the study's departments and futures.</param>
    /// <param name="progress">Hears of each part.</param>
    public static IEnumerable<ConditionRow> Rows(double share, Action<string> progress)
    {
        var walk = new MonthlyWalk(MonthlyTestOptions.Joint);
        var departments = (int)(share * Departments);
        foreach (var (volume, history) in MonthlyStudy.Cells)
        {
            progress(string.Create(CultureInfo.InvariantCulture, $"{volume} cases a month, {history} months of history"));
            foreach (var condition in MonthlyCondition.All)
                foreach (var row in FalseRows(walk, condition, volume, history, departments)
                    .Concat(NoticedRows(walk, condition, volume, history, departments)))
                    yield return row;
            foreach (var together in Togetherness.All)
                yield return Six(walk, together, volume, history, departments);
        }
        foreach (var volume in LuckVolumes)
            foreach (var correlation in Correlations)
            {
                progress(string.Create(CultureInfo.InvariantCulture, $"by department: {volume} cases a month, ρ {correlation}"));
                foreach (var (rate, _) in FalseAlarms.Six)
                {
                    yield return OwnHistories.Few(walk, volume, correlation, rate, OwnHistories.FewHistories,
                        (int)(share * OwnHistories.ManyFutures));
                    yield return OwnHistories.Many(walk, volume, correlation, rate, (int)(share * OwnHistories.ManyHistories));
                }
            }
    }

    public static IEnumerable<ConditionRow> FalseRows(
        MonthlyWalk walk, MonthlyCondition condition, double volume, int history, int departments)
    {
        foreach (var correlation in Correlations)
            foreach (var (rate, _) in FalseAlarms.Six)
            {
                var seed = Seeds.Of(Seed, MonthlyCondition.All.IndexOf(condition), volume, history, correlation, rate);
                var months = new EventCount[history + Truth.Horizon];
                var draws = new ConditionDraws(condition, volume, history, [.. Enumerable.Repeat(rate, months.Length)], correlation, seed);
                var alarms = 0;
                for (var index = 0; index < departments; index++)
                {
                    draws.Draw(index, months);
                    alarms += Signals(walk, months, history, firstOnly: true).Count;
                }
                yield return new("false", volume, history, correlation, condition.Name, StableAndChanged.Name(rate), [alarms], departments,
                    seed);
            }
    }

    private static IEnumerable<ConditionRow> NoticedRows(
        MonthlyWalk walk, MonthlyCondition condition, double volume, int history, int departments)
    {
        foreach (var truth in Truths.Select(name => Truth.All.Single(truth => truth.Name == name)))
        {
            var seed = Seeds.Of(Seed, MonthlyCondition.All.IndexOf(condition), volume, history, 1_000 + Truth.All.IndexOf(truth));
            var draws = new ConditionDraws(condition, volume, history, truth.Rates(history), 0, seed);
            var months = new EventCount[history + truth.Reports];
            var (noticed, all) = (0, 0);
            for (var index = 0; index < departments; index++)
            {
                draws.Draw(index, months);
                var (count, of) = StableAndChanged.Count(truth, Signals(walk, months, history, firstOnly: false));
                (noticed, all) = (noticed + count, all + of);
            }
            yield return new("noticed", volume, history, 0, condition.Name, truth.Name, [noticed], all, seed);
        }
    }

    /// <summary>Departments with any signal on any of six measures that go together.</summary>
    private static ConditionRow Six(MonthlyWalk walk, Togetherness together, double volume, int history, int departments)
    {
        var seed = Seeds.Of(Seed, 2_000 + Togetherness.All.IndexOf(together), volume, history);
        var draws = new SixDraws(together, volume, seed);
        EventCount[][] measures = [.. SixDraws.Rates.Select(_ => new EventCount[history + Truth.Horizon])];
        var alarms = 0;
        for (var index = 0; index < departments; index++)
        {
            draws.Draw(index, measures);
            alarms += measures.Any(months => Signals(walk, months, history, firstOnly: true).Count > 0) ? 1 : 0;
        }
        return new("together", volume, history, together.Correlation, together.Name, "six measures", [alarms], departments, seed);
    }

    /// <summary>The signals of a department; none where the history holds too few cases.</summary>
    private static List<StudySignal> Signals(MonthlyWalk walk, ReadOnlySpan<EventCount> months, int history, bool firstOnly)
    {
        List<StudySignal> signals = [];
        var cases = 0;
        foreach (var month in months[..history])
            cases += month.Cases;
        if (cases < MonthlyTestOptions.Joint.LeastHistoryCases)
            return signals;
        walk.Begin(months[..history]);
        for (var month = history; month < months.Length; month++)
            if (walk.Take(months[month]) is var (worse, _))
            {
                signals.Add(new(month - history, worse));
                if (firstOnly)
                    break;
                walk.Signal();
            }
        return signals;
    }
}
