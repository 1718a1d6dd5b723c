using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>What a department could notice with <see cref="ChangeOdds"/>, at its own volumes and history.</summary>
public static class ChangePower
{
    /// <summary>
    /// Chances of noticing a change that starts with the next report. The counts so far are taken as they are; every future month takes the
    /// eligible cases of a past month drawn at random, and binomial events at the changed rate.
    /// </summary>
    /// <param name="history">The measure's history.</param>
    /// <param name="reports">Its reports so far; fewer than the horizon. A department that has a signal already gets the chances of one
    /// that has none.</param>
    /// <param name="changed">The proportion met after the change, above 0 and below 1.</param>
    /// <param name="better">Which way the measure gets better.</param>
    /// <param name="simulation">The futures; the standard error of a chance is at most 1/(2√replicates).</param>
    /// <param name="options">Constants; null: the defaults.</param>
    /// <param name="expected">
    /// Where the case mix is followed, the chances of every month's cases so far, as in <see cref="ChangeOdds"/>. A future month then has
    /// the cases of a past one, and the changed rate is that of all cases so far.
    /// </param>
    /// <returns>Null when there is too little history to judge anything, or no report is left in the horizon.</returns>
    /// <remarks>
    /// Includes some false signals, about as many as the budget allows in the time. Months do not vary by themselves here; where they do, a
    /// change is noticed a little later. A signal in the other direction counts as well, and is rare.
    /// </remarks>
    public static ChangeDetection? OfHistory(
        IReadOnlyList<Count> history, IReadOnlyList<Count> reports, double changed, Better better, ChangeSimulation simulation,
        ChangeOddsOptions? options = null, IReadOnlyList<ImmutableArray<double>>? expected = null)
    {
        options ??= new();
        var (uniform, months, replicates) = simulation;
        Requires.Level(changed);
        ArgumentOutOfRangeException.ThrowIfLessThan(replicates, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(months, 1);
        var ((pastBad, pastEligible), (bad, eligible)) = (ChangeOdds.Coded(history, better), ChangeOdds.Coded(reports, better));
        months = Math.Min(months, options.Horizon - reports.Count);
        if (months < 1 || ChangeOdds.TooFew(history, options))
            return null;
        var limit = ChangeLimit.OfHistory(pastBad.Sum(value => (long)value), pastEligible.Sum(value => (long)value),
            history.Count, options);
        var walk = expected is null ? new ChangeWalk(options) : new ChangeWalk(options, new MixedGrid(options, expected));
        walk.Begin(pastBad, pastEligible);
        for (var month = 0; month < reports.Count; month++)
            walk.Report(bad[month], eligible[month]);
        int[] volumes = [.. pastEligible, .. eligible];
        var rate = better == Better.Up ? 1 - changed : changed;
        var chances = expected is null ? null : Chances(expected, rate);
        var saved = walk.Save();
        var first = new int[months];
        for (var replicate = 0; replicate < replicates; replicate++)
        {
            walk.Restore(saved);
            if (First(walk, months, limit, () => Month(volumes, rate, chances, uniform)) is { } report)
                first[report]++;
        }
        return Detection(first, replicates);
    }

    /// <summary>
    /// Chances of noticing a change for a department that is still to be: its history and every future month have Poisson cases and
    /// binomial events.
    /// </summary>
    /// <param name="plan">The department and its change.</param>
    /// <param name="simulation">The departments that are drawn.</param>
    /// <param name="options">Constants; null: the defaults.</param>
    /// <returns>Chances among departments without a signal before the change; those with too few cases to judge notice nothing.</returns>
    public static ChangeDetection OfPlan(PlannedChange plan, ChangeSimulation simulation, ChangeOddsOptions? options = null)
    {
        options ??= new();
        var (volume, met, changed, historyMonths, stableReports, better) = plan;
        var (uniform, months, replicates) = simulation;
        Requires.Level(met);
        Requires.Level(changed);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(volume);
        ArgumentOutOfRangeException.ThrowIfLessThan(historyMonths, options.LeastHistoryMonths);
        ArgumentOutOfRangeException.ThrowIfNegative(stableReports);
        ArgumentOutOfRangeException.ThrowIfLessThan(replicates, 1);
        months = Math.Min(months, options.Horizon - stableReports);
        ArgumentOutOfRangeException.ThrowIfLessThan(months, 1);
        var (before, after) = better == Better.Up ? (1 - met, 1 - changed) : (met, changed);
        var cases = new PoissonDraw(volume);
        var walk = new ChangeWalk(options);
        var first = new int[months];
        var undisturbed = 0;
        int[] bad = new int[historyMonths], eligible = new int[historyMonths];
        for (var replicate = 0; replicate < replicates; replicate++)
        {
            for (var month = 0; month < historyMonths; month++)
                (bad[month], eligible[month]) = Draw(cases.Next(uniform()), before, uniform);
            if (eligible.Sum() < options.LeastHistoryCases)
            {
                undisturbed++;
                continue;
            }
            var limit = ChangeLimit.OfHistory(bad.Sum(), eligible.Sum(), historyMonths, options);
            walk.Begin(bad, eligible);
            if (First(walk, stableReports, limit, () => Drawn(before)) is not null)
                continue;
            undisturbed++;
            if (First(walk, months, limit, () => Drawn(after)) is { } report)
                first[report]++;
        }
        return Detection(first, Math.Max(1, undisturbed));

        (int Bad, int Eligible, int? Like) Drawn(double rate)
        {
            var (bad, eligible) = Draw(cases.Next(uniform()), rate, uniform);
            return (bad, eligible, null);
        }
    }

    /// <summary>The first of so many months with a signal, 0-based.</summary>
    private static int? First(ChangeWalk walk, int months, double limit, Func<(int Bad, int Eligible, int? Like)> draw)
    {
        for (var month = 0; month < months; month++)
        {
            var (bad, eligible, like) = draw();
            var (worse, better) = walk.Report(bad, eligible, like);
            if (Math.Log(worse + better) >= limit)
                return month;
        }
        return null;
    }

    /// <summary>
    /// A future month: the cases of a past one, and the events that the changed rate, or each case's changed chance, gives them.
    /// </summary>
    private static (int Bad, int Eligible, int? Like) Month(int[] volumes, double rate, double[][]? chances, Func<double> uniform)
    {
        var like = (int)(uniform() * volumes.Length);
        if (chances is null)
            return (Draw(volumes[like], rate, uniform).Bad, volumes[like], null);
        var bad = 0;
        foreach (var chance in chances[like])
            if (uniform() < chance)
                bad++;
        return (bad, volumes[like], like);
    }

    /// <summary>Each case's chance once the log odds of all are shifted so that their mean chance is the rate.</summary>
    private static double[][] Chances(IReadOnlyList<ImmutableArray<double>> expected, double rate)
    {
        double[][] logOdds = [.. expected.Select(month => month.Order().Select(MixedGrid.LogOf).ToArray())];
        var shift = MixedGrid.Shift(rate, [.. logOdds.SelectMany(month => month)]);
        return [.. logOdds.Select(month => month.Select(each => LogOdds.Proportion(each + shift)).ToArray())];
    }

    private static (int Bad, int Eligible) Draw(int eligible, double rate, Func<double> uniform)
    {
        var bad = 0;
        for (var i = 0; i < eligible; i++)
            if (uniform() < rate)
                bad++;
        return (bad, eligible);
    }

    private static ChangeDetection Detection(int[] first, int replicates)
    {
        var chances = ImmutableArray.CreateBuilder<double>(first.Length);
        var sum = 0;
        foreach (var signals in first)
            chances.Add((double)(sum += signals) / replicates);
        return new(chances.MoveToImmutable(), replicates);
    }
}
