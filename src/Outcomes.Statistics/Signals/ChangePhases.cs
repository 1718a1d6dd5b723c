using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>A history with its reports, within a longer series.</summary>
/// <param name="HistoryFrom">0-based month where the history starts.</param>
/// <param name="ReportsFrom">0-based month of the first report; the length of the series when there is none yet.</param>
/// <param name="Reading">What they say.</param>
public sealed record ChangePhase(int HistoryFrom, int ReportsFrom, ChangeReading Reading);

/// <summary>Change odds along a series of any length.</summary>
public static class ChangePhases
{
    private const int RenewedMonths = 24;

    /// <summary>
    /// Splits a series into phases and reads each. The first history lasts as many months as declared, and longer until it holds enough
    /// cases to judge. When a horizon has passed without a signal, the last 24 months become the next history, with a new budget. After a
    /// signal no phase follows: a new history is a person's decision, and starts another series.
    /// </summary>
    /// <param name="counts">Every month in order, empty months included.</param>
    /// <param name="historyMonths">Declared months of history; fewer than <see cref="ChangeOddsOptions.LeastHistoryMonths"/> are taken as
    /// that many.</param>
    /// <param name="better">Which way the measure gets better.</param>
    /// <param name="options">Constants; null: the defaults.</param>
    /// <param name="expected">For every month the chances of its eligible cases, as in <see cref="ChangeOdds"/>; null: counts
    /// alone.</param>
    /// <returns>
    /// At least one phase; the last one holds the latest month. A phase without a report has no change yet or too few cases to judge.
    /// </returns>
    /// <remarks>
    /// Depends, at every month, on data up to that month only, so a longer series never changes what was said of a month.
    /// </remarks>
    public static ImmutableArray<ChangePhase> Read(
        IReadOnlyList<Count> counts, int historyMonths, Better better, ChangeOddsOptions? options = null,
        IReadOnlyList<ImmutableArray<double>>? expected = null)
    {
        options ??= new();
        var phases = ImmutableArray.CreateBuilder<ChangePhase>();
        var (from, reports) = (0, FirstReport(counts, historyMonths, options));
        while (true)
        {
            var end = Math.Min(counts.Count, reports + options.Horizon);
            var reading = ChangeOdds.Read([.. counts.Take(reports).Skip(from)], [.. counts.Take(end).Skip(reports)], better,
                expected is null ? null : [.. expected.Take(end).Skip(from)], options);
            phases.Add(new(from, reports, reading));
            if (reading.State != ChangeState.NoSignOfChange || end == counts.Count)
                return phases.ToImmutable();
            (from, reports) = (Math.Max(from, end - RenewedMonths), end);
            if (Cases(counts, from, reports) < options.LeastHistoryCases)
                from = LatestEnough(counts, reports, options);
        }
    }

    /// <summary>
    /// The 0-based month after the first history that is long enough and holds enough cases; the length of the series when there is none.
    /// </summary>
    private static int FirstReport(IReadOnlyList<Count> counts, int historyMonths, ChangeOddsOptions options)
    {
        long cases = 0;
        for (var month = 0; month < counts.Count; month++)
        {
            cases += counts[month].Eligible;
            if (month + 1 >= Math.Max(historyMonths, options.LeastHistoryMonths) && cases >= options.LeastHistoryCases)
                return month + 1;
        }
        return counts.Count;
    }

    /// <summary>The latest month from which the months before <paramref name="to"/> hold enough cases, 0 if none does.</summary>
    private static int LatestEnough(IReadOnlyList<Count> counts, int to, ChangeOddsOptions options)
    {
        long cases = 0;
        for (var month = to - 1; month >= 0; month--)
            if ((cases += counts[month].Eligible) >= options.LeastHistoryCases)
                return month;
        return 0;
    }

    private static long Cases(IReadOnlyList<Count> counts, int from, int to)
    {
        long cases = 0;
        for (var month = from; month < to; month++)
            cases += counts[month].Eligible;
        return cases;
    }
}
