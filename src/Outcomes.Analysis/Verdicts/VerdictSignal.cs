using Outcomes.Measures.Catalogue;

namespace Outcomes.Analysis;

/// <summary>The monthly test's current signal, in months and in the measure's own rate.</summary>
internal static class VerdictSignal
{
    /// <summary>The signal that is current; null without one.</summary>
    public static VerdictChange? Find(MeasureSignal? signal, Measure measure)
    {
        if (signal?.Window is not { Test: { CurrentSignal: { Start: var start } current } test } window)
            return null;
        var before = test.Levels[Math.Max(0, start.From - 1)].Median;
        return new(current.ForTheWorse, At(start.Likeliest), At(start.From), At(start.To), At(current.Month),
            measure.Direction == Direction.Up ? 1 - before : before);

        Records.Month At(int month) => window.HistoryFrom.AddMonths(month);
    }

    /// <summary>Whether a change for the worse follows an earlier signal for the better.</summary>
    public static bool IsRelapse(MeasureSignal signal) =>
        signal.Window?.Test?.Signals is [.., var before, { ForTheWorse: true }] && !before.ForTheWorse;
}
