using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>Has a monthly proportion changed? Posterior odds that it has, against a limit with a false-alarm budget.</summary>
public static class ChangeOdds
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "change_odds";

    /// <summary>Where the method comes from; citations from memory, the limit from the project's own simulations.</summary>
    public const string Source =
        "Shiryaev-Roberts sum with a head start over a beta-binomial with unknown rate and variation; Pollak M. Ann Stat 1985;13:206-227; "
        + "Polunchenko AS. arXiv:1607.00959; limit: docs/statistics/signals.md";

    /// <summary>
    /// Reads the reports of a measure against its history. S is the sum over report months i of the likelihood ratio of "changed since i"
    /// to "unchanged", averaged over baseline rate, month-to-month variation, odds ratio and direction; a change before the first report
    /// counts with the head start. A signal is given when ln S first reaches the limit, and stays.
    /// </summary>
    /// <param name="history">Counts of the months that say what is usual, in order, empty months included. No change may lie
    /// inside.</param>
    /// <param name="reports">Counts of the months after it, in order, empty months included, at most
    /// <see cref="ChangeOddsOptions.Horizon"/>. Only months that are over.</param>
    /// <param name="better">Which way the measure gets better.</param>
    /// <param name="options">Constants; null: the defaults.</param>
    /// <returns>Every month's ln S and state. With a history of under 12 months or 40 eligible cases: too few to judge.</returns>
    /// <remarks>
    /// The report at a month depends on data up to that month only. Missing records take no part. Assumes that records are independent but
    /// for months that vary together; a change of case mix or of recording is signalled like any other. A month without cases raises S by
    /// little and changes no weight. Per measure the budget holds for one look a month over the horizon; every further measure spends its
    /// own. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count is impossible, or there are more reports than the horizon.</exception>
    public static ChangeReading Read(
        IReadOnlyList<Count> history, IReadOnlyList<Count> reports, Better better, ChangeOddsOptions? options = null) =>
            Read(history, reports, better, null, options);

    /// <summary>
    /// As above, with the case mix inside: cases of unlike risk are told apart, so that a mix that moves is no change, and a change that
    /// the mix hides is one.
    /// </summary>
    /// <param name="history">Counts of the months that say what is usual.</param>
    /// <param name="reports">Counts of the months after it.</param>
    /// <param name="better">Which way the measure gets better.</param>
    /// <param name="expected">
    /// For every month, history first, the chance of the event (not met where more is better, met where less is) of each eligible case,
    /// above 0 and below 1, in any order. Only their distances in log odds matter, not their level. They must come from the history or from
    /// what lies before it. Null: counts alone.
    /// </param>
    /// <param name="options">Constants; null: the defaults.</param>
    /// <returns>The same, and in each month the events that its cases would have at the history's rate.</returns>
    /// <remarks>
    /// A shift of the log odds of all cases takes the place of the rate. The limit is the same function of the history. With one chance for
    /// all cases the numbers are those of counts alone. Chances are taken as true: those estimated from the history leave a little more
    /// false alarms (docs/statistics/signals.md).
    /// </remarks>
    /// <exception cref="ArgumentException">A month has another number of chances than of eligible cases, or a chance does not lie between 0
    /// and 1.</exception>
    public static ChangeReading Read(
        IReadOnlyList<Count> history, IReadOnlyList<Count> reports, Better better, IReadOnlyList<ImmutableArray<double>>? expected,
        ChangeOddsOptions? options = null)
    {
        options ??= new();
        if (reports.Count > options.Horizon)
            throw new ArgumentOutOfRangeException(nameof(reports), reports.Count,
                $"the budget covers {options.Horizon} reports: renew the history");
        var ((pastBad, pastEligible), (bad, eligible)) = (Coded(history, better), Coded(reports, better));
        if (expected is not null)
            RequireChances(expected, [.. pastEligible, .. eligible]);
        var past = history.Aggregate(default(Count), Count.Add);
        if (TooFew(history, options))
            return new(
                ChangeState.TooFewToJudge, history.Count, past, null,
                [.. reports.Select(count => new ChangeMonth(count, null, null, ChangeState.TooFewToJudge))], null, null);

        var limit = ChangeLimit.OfHistory(pastBad.Sum(value => (long)value), past.Eligible, history.Count, options);
        var walk = expected is null ? new ChangeWalk(options) : new ChangeWalk(options, new MixedGrid(options, expected));
        walk.Begin(pastBad, pastEligible);
        var months = ImmutableArray.CreateBuilder<ChangeMonth>(reports.Count);
        Change? change = null;
        for (var month = 0; month < reports.Count; month++)
        {
            var (worse, good) = walk.Report(bad[month], eligible[month]);
            var logOdds = Math.Log(worse + good);
            if (change is null && logOdds >= limit)
            {
                var start = ChangeStarts.Of(walk, worse > good, history.Count, bad.AsSpan(0, month + 1),
                    eligible.AsSpan(0, month + 1), options);
                change = At(month, worse > good, start, reports);
            }
            months.Add(new(reports[month], logOdds, worse / (worse + good),
                change is null ? ChangeState.NoSignOfChange : ChangeState.ChangeSignal)
            {
                Expected = walk.Grid.Expected(history.Count + month),
            });
        }
        return new(
            change is null ? ChangeState.NoSignOfChange : ChangeState.ChangeSignal,
            history.Count, past, limit, months.MoveToImmutable(), change, walk.Variation());
    }

    /// <summary>Whether a history is too short or holds too few cases.</summary>
    internal static bool TooFew(IReadOnlyList<Count> history, ChangeOddsOptions options) =>
        history.Count < options.LeastHistoryMonths || history.Aggregate(default(Count), Count.Add).Eligible < options.LeastHistoryCases;

    private static Change At(int month, bool worse, ChangeStart start, IReadOnlyList<Count> reports) => new(
        month, worse, start,
        Proportion.Estimate(Sum(reports, start.Likeliest, month + 1)),
        Proportion.Estimate(Sum(reports, month + 1, reports.Count)));

    internal static void RequireChances(IReadOnlyList<ImmutableArray<double>> expected, IReadOnlyList<int> eligible)
    {
        if (expected.Count != eligible.Count)
            throw new ArgumentException($"every month needs the chances of its cases; there are {eligible.Count} months and chances "
                + $"for {expected.Count}", nameof(expected));
        for (var month = 0; month < eligible.Count; month++)
            if (expected[month].Length != eligible[month])
                throw new ArgumentException($"every eligible case needs a chance; month {month} of {eligible.Count}, counted from 0, "
                    + $"has {eligible[month]} cases and {expected[month].Length} chances", nameof(expected));
            else if (expected[month].Any(chance => !(chance is > 0 and < 1)))
                throw new ArgumentException($"chances lie above 0 and below 1; month {month}, counted from 0, has another",
                    nameof(expected));
    }

    private static Count Sum(IReadOnlyList<Count> counts, int from, int to)
    {
        var sum = default(Count);
        for (var month = from; month < to; month++)
            sum += counts[month];
        return sum;
    }

    /// <summary>Bad events and eligible cases: inside, every measure is one where less is better.</summary>
    internal static (int[] Bad, int[] Eligible) Coded(IReadOnlyList<Count> counts, Better better)
    {
        var (bad, eligible) = (new int[counts.Count], new int[counts.Count]);
        for (var month = 0; month < counts.Count; month++)
        {
            var count = counts[month];
            Requires.Counts(count);
            eligible[month] = checked((int)count.Eligible);
            bad[month] = checked((int)(better == Better.Up ? count.Eligible - count.Met : count.Met));
        }
        return (bad, eligible);
    }
}
