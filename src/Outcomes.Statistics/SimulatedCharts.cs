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
        ArgumentOutOfRangeException.ThrowIfLessThan(replicates, 1);
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

/// <summary>Binomial proportions by inversion of a table of the distribution, without the tails that no 53-bit number reaches.</summary>
internal sealed class BinomialDraw
{
    private readonly double _eligible;
    private readonly long _first;
    private readonly double[] _cumulative;

    public BinomialDraw(long eligible, double rate)
    {
        _eligible = eligible;
        var mode = (long)Math.Clamp(Math.Floor((eligible + 1) * rate), 0, eligible);
        var odds = rate / (1 - rate);
        List<double> below = [], above = [1];
        // Ratios of neighbouring terms, outwards from the mode, where the largest term is set to 1.
        for (var k = mode; k > 0 && rate > 0; k--)
        {
            var term = (k == mode ? 1 : below[^1]) * k / ((eligible - k + 1) * odds);
            if (term < 1e-18)
                break;
            below.Add(term);
        }
        for (var k = mode; k < eligible && rate < 1; k++)
        {
            var term = above[^1] * (eligible - k) * odds / (k + 1);
            if (term < 1e-18)
                break;
            above.Add(term);
        }
        _first = mode - below.Count;
        below.Reverse();
        _cumulative = [.. below, .. above];
        for (var i = 1; i < _cumulative.Length; i++)
            _cumulative[i] += _cumulative[i - 1];
    }

    /// <summary>The proportion at this uniform number.</summary>
    public double Next(double uniform)
    {
        var at = Array.BinarySearch(_cumulative, uniform * _cumulative[^1]);
        var k = _first + Math.Min(at < 0 ? ~at : at + 1, _cumulative.Length - 1);
        return k / _eligible;
    }
}
