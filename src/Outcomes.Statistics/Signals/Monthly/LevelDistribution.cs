using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>Quantiles and mean of the event rate from the chances of the levels, each level a bin of 0.1 log odds.</summary>
internal static class LevelDistribution
{
    public static LevelEstimate Estimate(ReadOnlySpan<Vector256<double>> states, ILevelLikelihood grid)
    {
        Span<double> running = stackalloc double[LevelGrid.Levels + 1];
        Sum(states, running);
        return new(
            Rate(0.5, running, grid.Edges), Mean(states, grid, running[^1]),
            new(Rate(0.1, running, grid.Edges), Rate(0.9, running, grid.Edges)),
            new(Rate(0.025, running, grid.Edges), Rate(0.975, running, grid.Edges)));
    }

    public static MonthlyLevel OfMonth(ReadOnlySpan<Vector256<double>> states, ILevelLikelihood grid, double rise, double fall)
    {
        Span<double> running = stackalloc double[LevelGrid.Levels + 1];
        Sum(states, running);
        return new(
            Rate(0.5, running, grid.Edges), Mean(states, grid, running[^1]),
            new(Rate(0.1, running, grid.Edges), Rate(0.9, running, grid.Edges)), rise, fall);
    }

    /// <summary>The log odds below which this share of the states lies, between the edges of its bin by proportion.</summary>
    public static double LogOddsAt(double share, ReadOnlySpan<double> running, ReadOnlySpan<double> edges)
    {
        var target = share * running[^1];
        var bin = 0;
        while (bin < LevelGrid.Levels - 1 && running[bin + 1] <= target)
            bin++;
        var weight = running[bin + 1] - running[bin];
        return edges[bin] + (weight > 0 ? (target - running[bin]) / weight * (edges[bin + 1] - edges[bin]) : 0);
    }

    /// <summary>Running sums of the chances of the levels, from 0.</summary>
    public static void Sum(ReadOnlySpan<Vector256<double>> states, Span<double> running)
    {
        running[0] = 0;
        for (var level = 0; level < LevelGrid.Levels; level++)
            running[level + 1] = running[level] + LevelGrid.Sum(states[level]);
    }

    private static double Rate(double share, ReadOnlySpan<double> running, ReadOnlySpan<double> edges) =>
        LogOdds.Proportion(LogOddsAt(share, running, edges));

    private static double Mean(ReadOnlySpan<Vector256<double>> states, ILevelLikelihood grid, double all)
    {
        var mean = 0.0;
        for (var level = 0; level < LevelGrid.Levels; level++)
            mean += LevelGrid.Sum(states[level]) * grid.Rates[level];
        return mean / all;
    }
}
