namespace Outcomes.Statistics;

/// <summary>The chance of a false signal by drawing charts of a process that does not change, at the actual denominators.</summary>
internal static class SimulatedCharts
{
    /// <summary>
    /// The share of simulated charts that show a longer run or fewer crossings than the limits of their own useful points allow.
    /// Each has this chart's points, denominators and baseline; every count is binomial with the baseline's pooled proportion.
    /// </summary>
    /// <remarks>
    /// Includes the chance in a frozen median, in ties and in unequal denominators. Assumes no variation beyond the binomial, and one look
    /// at the end.
    /// </remarks>
    public static double Chance(RunChart chart, Func<double> uniform, int replicates)
    {
        RunChartPoint[] points = [.. chart.Points.Where(point => point.Value is not null)];
        bool[] inBaseline = [.. points.Select(point => Points.IsInside(point, chart.Baseline))];
        var pooled = points.Where((_, i) => inBaseline[i]).Aggregate(default(Count), (sum, point) => sum + point.Count);
        var rate = (double)pooled.Met / pooled.Eligible;
        var draws = points.Select(point => point.Count.Eligible).Distinct().ToDictionary(n => n, n => new BinomialDraw(n, rate));
        BinomialDraw[] counts = [.. points.Select(point => draws[point.Count.Eligible])];

        var values = new double[points.Length];
        var baseline = new double[inBaseline.Count(inside => inside)];
        var sides = new int[points.Length];
        var runLimits = Enumerable.Range(0, points.Length + 1).Select(LongestRunAndCrossings.RunLimit).ToArray();
        var crossingsLimits = Enumerable.Range(0, points.Length + 1).Select(LongestRunAndCrossings.CrossingsLimit).ToArray();
        var signals = 0;
        for (var replicate = 0; replicate < replicates; replicate++)
        {
            var inside = 0;
            for (var i = 0; i < points.Length; i++)
            {
                values[i] = counts[i].Next(uniform());
                if (inBaseline[i])
                    baseline[inside++] = values[i];
            }
            Array.Sort(baseline);
            var useful = RunCharts.Sides(values, Medians.OfSorted(baseline), sides);
            var (longest, crossings) = RunCharts.LongestAndCrossings(sides.AsSpan(0, useful));
            if (longest > runLimits[useful] || crossings < crossingsLimits[useful])
                signals++;
        }
        return (double)signals / replicates;
    }
}
