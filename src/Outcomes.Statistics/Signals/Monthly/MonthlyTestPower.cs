using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>What <see cref="MonthlyTest"/> would notice from here on.</summary>
public static class MonthlyTestPower
{
    /// <summary>
    /// Chances of a signal the right way if the level moved to a named one with the next report. Each continuation draws level and
    /// variation from what the filter knows now, moves the log odds by the distance from the median level to the named one, and draws
    /// months with the cases of past ones.
    /// </summary>
    /// <param name="months">Events and cases of every month so far, history first.</param>
    /// <param name="historyMonths">Months of history.</param>
    /// <param name="named">The event rate after the change, above 0 and below 1; with case mix that of the history's cases.</param>
    /// <param name="simulation">The futures: 2,000 replicates give a standard error of at most 1.1 points.</param>
    /// <param name="options">Constants; null: <see cref="MonthlyTestOptions.Joint"/>.</param>
    /// <param name="expected">The chance of each case, as in <see cref="MonthlyTest.Run"/>; null: counts alone.</param>
    /// <returns>Null when there is too little history, or when the named level is the level now.</returns>
    /// <remarks>
    /// So it starts from the level now, not from that of the history, and a signal that was given already does not count. Months vary as
    /// the filter takes them to, one in fifty is odd. Months of the last year are drawn at random with their cases, or case mix.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">An input is out of range.</exception>
    public static ChangeDetection? Simulate(
        ImmutableArray<EventCount> months, int historyMonths, double named, ChangeSimulation simulation, MonthlyTestOptions? options = null,
        IReadOnlyList<ImmutableArray<double>>? expected = null)
    {
        options ??= MonthlyTestOptions.Joint;
        MonthlyTest.Check(months, historyMonths, expected);
        Requires.Level(named);
        ArgumentOutOfRangeException.ThrowIfLessThan(simulation.Replicates, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(simulation.Months, 1);
        if (historyMonths < options.LeastHistoryMonths
            || months[..historyMonths].Aggregate(default(EventCount), EventCount.Add).Cases < options.LeastHistoryCases)
            return null;
        var walk = expected is null ? new MonthlyWalk(options) : new MonthlyWalk(options, expected, historyMonths);
        walk.Begin(months.AsSpan(0, historyMonths));
        foreach (var month in months[historyMonths..])
            if (walk.Take(month) is not null)
                walk.Signal();
        var future = new MonthlyFuture(walk, months, named, expected is null ? null : walk.Likelihood as MixLikelihood);
        return future.Distance == 0 ? null : Count(walk, future, simulation, options);
    }

    private static ChangeDetection Count(
        MonthlyWalk walk, MonthlyFuture future, ChangeSimulation simulation, MonthlyTestOptions options)
    {
        var first = new int[simulation.Months];
        var start = new LevelFilter(options);
        start.Follow(walk.Filter);
        var early = walk.Early?.Save();
        for (var replicate = 0; replicate < simulation.Replicates; replicate++)
        {
            walk.Filter.Follow(start);
            if (early is { } saved)
                walk.Early!.Restore(saved);
            future.Begin(simulation.Uniform);
            for (var month = 0; month < simulation.Months; month++)
            {
                var (count, like) = future.Draw(simulation.Uniform);
                if (walk.Take(count, like) is not var (worse, _))
                    continue;
                // A signal the wrong way is not what was asked for, and the test goes on after it.
                if (worse == future.Distance > 0)
                {
                    first[month]++;
                    break;
                }
                walk.Signal();
            }
        }
        var chances = ImmutableArray.CreateBuilder<double>(first.Length);
        var sum = 0;
        foreach (var signals in first)
            chances.Add((double)(sum += signals) / simulation.Replicates);
        return new(chances.MoveToImmutable(), simulation.Replicates);
    }
}
