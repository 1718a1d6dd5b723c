using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>
/// Has the level of a monthly proportion changed, and since when? A hidden Markov model whose level may change more than once, against a
/// limit with a false-alarm budget; beside it, for the first reports, <see cref="ChangeOdds"/>.
/// </summary>
public static class MonthlyTest
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "monthly_test";

    /// <summary>Where the method comes from; citations from memory, constants and limit from the project's own simulations.</summary>
    public const string Source =
        "Hidden Markov (change-point) filter of a level with random jumps: Barry D, Hartigan JA. J Am Stat Assoc 1993;88:309-319; Rabiner "
        + "LR. Proc IEEE 1989;77:257-286 (forward-backward); beta-binomial months: Skellam JG. J R Stat Soc B 1948;10:257-261; early leg: "
        + "Shiryaev-Roberts sum, Polunchenko AS. arXiv:1607.00959; constants and limit: docs/statistics/monthly-test.md";

    private const int Year = 12;

    /// <summary>
    /// Tests every report of a measure. Each month the level (log odds) stays or, with a small chance, jumps by 0.3 or more; each month is
    /// beta-binomial round it. A signal is given when the chance that the last change since the anchor was for the worse (better) reaches
    /// its limit, or, in the first reports, when the early leg reaches its own. At a signal the anchor moves there and the test goes on: a
    /// relapse or a second step signals again.
    /// </summary>
    /// <param name="months">Events and cases of every month in order, history first, empty months included. Only months that are
    /// over.</param>
    /// <param name="historyMonths">Months of history, at most all months: see <see cref="CountHistory"/>.</param>
    /// <param name="options">Constants; null: <see cref="MonthlyTestOptions.Joint"/>.</param>
    /// <param name="expected">
    /// Where the case mix is followed: for every month, history first, the chance of the event of each case, above 0 and below 1, in any
    /// order. The level is then a shift of the log odds of all cases, and rates are those of the history's cases. Null: counts alone.
    /// </param>
    /// <returns>With less history than the options ask: too few to judge.</returns>
    /// <remarks>
    /// Chances, limits and signals of a report depend on months up to it only; smoothed levels on all months. Assumes independent cases but
    /// for months that vary together, one in fifty of them much. A change of case mix or of recording is signalled like any other. An empty
    /// month changes the chances only by the chance of a change before it. Studied for rates of 5 to 20 %, 5 to 50 cases a month, 12 and
    /// 24 months of history. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count is impossible, or the history is longer than the series.</exception>
    /// <exception cref="ArgumentException">A month has another number of chances than of cases, or a chance is not between 0 and
    /// 1.</exception>
    public static MonthlyTestResult Run(
        ImmutableArray<EventCount> months, int historyMonths, MonthlyTestOptions? options = null,
        IReadOnlyList<ImmutableArray<double>>? expected = null)
    {
        options ??= MonthlyTestOptions.Joint;
        Check(months, historyMonths, expected);
        var history = months[..historyMonths].Aggregate(default(EventCount), EventCount.Add);
        if (historyMonths < options.LeastHistoryMonths || history.Cases < options.LeastHistoryCases)
            return new(historyMonths, history, null, [], [], []);
        var walk = expected is null ? new MonthlyWalk(options) : new MonthlyWalk(options, expected, historyMonths);
        var path = new LevelPath(options, historyMonths, walk.Likelihood);
        walk.Begin(months.AsSpan(0, historyMonths), month => path.Add(walk.Filter, walk.Likelihood.Find(walk.Filter.Month - 1, month)));
        var (before, limits) = (walk.Filter.Copy(), walk.Limits);
        var reports = ImmutableArray.CreateBuilder<MonthlyReport>(months.Length - historyMonths);
        var signals = ImmutableArray.CreateBuilder<(int Month, bool ForTheWorse, SignalLeg Leg, MonthsOfChange Start)>();
        var anchor = historyMonths;
        for (var month = historyMonths; month < months.Length; month++)
        {
            var signal = walk.Take(months[month]);
            path.Add(walk.Filter, walk.Likelihood.Find(month, months[month]));
            reports.Add(Report(walk, month, months[month], before));
            if (signal is not var (worse, leg))
                continue;
            signals.Add((month, worse, leg, path.FindChange(month, anchor, worse)));
            anchor = month + 1;
            walk.Signal();
        }
        var last = months.Length - 1;
        return new(historyMonths, history, limits, reports.MoveToImmutable(),
            [.. signals.Select(signal => Follow(signal.Month, signal.ForTheWorse, signal.Leg, signal.Start, path, last))], path.Smooth())
        {
            LimitsNow = walk.Limits,
            Current = LevelDistribution.Estimate(path.Last, walk.Likelihood),
            AtHistoryEnd = LevelDistribution.Estimate(before, walk.Likelihood),
            ThanYearAgo = last >= Year ? path.Compare(last - Year, last)[^1] : null,
            ThanHistory = path.Compare(historyMonths - 1, last)[^1],
            Variation = Variation(path.Last),
            HistoryUnchanged = walk.Filter.Unchanged,
        };
    }

    /// <summary>
    /// How many months the history has: as many as declared, at least 12, and longer until it holds 40 cases; null while there are too few.
    /// </summary>
    /// <param name="months">Every month in order.</param>
    /// <param name="declared">Declared months of history.</param>
    /// <param name="options">What is least; null: the defaults.</param>
    public static int? CountHistory(IReadOnlyList<EventCount> months, int declared, MonthlyTestOptions? options = null)
    {
        options ??= MonthlyTestOptions.Joint;
        var cases = 0;
        for (var month = 0; month < months.Count; month++)
            if ((cases += months[month].Cases) >= options.LeastHistoryCases
                && month + 1 >= Math.Max(declared, options.LeastHistoryMonths))
                return month + 1;
        return null;
    }

    internal static void Check(
        ImmutableArray<EventCount> months, int historyMonths, IReadOnlyList<ImmutableArray<double>>? expected)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(historyMonths);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(historyMonths, months.Length);
        foreach (var (events, cases) in months)
            if (events < 0 || events > cases)
                throw new ArgumentOutOfRangeException(nameof(months), (events, cases), "events lie between 0 and the cases");
        if (expected is not null)
            ChangeOdds.RequireChances(expected, [.. months.Select(month => month.Cases)]);
    }

    private static MonthlyReport Report(
        MonthlyWalk walk, int month, EventCount count, ReadOnlySpan<System.Runtime.Intrinsics.Vector256<double>> before)
    {
        var expected = 0.0;
        for (var level = 0; level < LevelGrid.Levels && count.Cases > 0; level++)
            expected += LevelGrid.Sum(before[level]) * walk.Likelihood.Mean(month, level);
        var filter = walk.Filter;
        return new(month, count, filter.Worse, filter.Better, filter.LogOddsWorse, filter.LogOddsBetter)
        {
            EarlyLogOdds = walk.Early?.LogOdds,
            EarlyWorseShare = walk.Early?.WorseShare,
            Expected = expected * count.Cases,
        };
    }

    private static MonthlySignal Follow(int month, bool worse, SignalLeg leg, MonthsOfChange start, LevelPath path, int last)
    {
        // Before the whole range: in the month before the likeliest the level has often moved already.
        var from = start.From - 1;
        var compared = path.Compare(from, Math.Min(last, month + MonthlySignal.Reports - 1));
        return new(month, worse, leg, start,
            [.. compared.Skip(month - from).Select(each => worse ? each.ChanceWorse : each.ChanceBetter)]);
    }

    private static double Variation(ReadOnlySpan<System.Runtime.Intrinsics.Vector256<double>> states)
    {
        var (all, mean) = (0.0, 0.0);
        foreach (var level in states)
            (all, mean) = (all + LevelGrid.Sum(level), mean + LevelGrid.Sum(level * LevelGrid.Variations));
        return mean / all;
    }
}
