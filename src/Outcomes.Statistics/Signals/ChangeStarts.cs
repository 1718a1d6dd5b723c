namespace Outcomes.Statistics;

/// <summary>When a change may have started.</summary>
internal static class ChangeStarts
{
    private const double Wanted = 0.8;

    /// <summary>
    /// The posterior of the report since which the odds have been changed, given that they have changed this way: proportional to the sum
    /// over cells and odds ratios of weight times the likelihood ratios from that report on, the first report with the head start on top.
    /// The range grows from the likeliest report to its likelier neighbour until it holds 80 %.
    /// </summary>
    /// <param name="walk">The statistic, after the last of the reports.</param>
    /// <param name="worse">The way of the change.</param>
    /// <param name="history">Months of history.</param>
    /// <param name="bad">Bad events, a number a report.</param>
    /// <param name="eligible">Eligible cases, a number a report.</param>
    /// <param name="options">The constants.</param>
    public static ChangeStart Of(
        ChangeWalk walk, bool worse, int history, ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, ChangeOddsOptions options)
    {
        var chances = Posterior(walk, worse, history, bad, eligible, options);
        var likeliest = Array.IndexOf(chances, chances.Max());
        var (from, to, sum) = (likeliest, likeliest, chances[likeliest]);
        while (sum < Wanted)
        {
            var before = from > 0 ? chances[from - 1] : -1;
            var after = to + 1 < chances.Length ? chances[to + 1] : -1;
            if (before > after)
                (from, sum) = (from - 1, sum + before);
            else
                (to, sum) = (to + 1, sum + after);
        }
        return new(likeliest, from, to, Math.Min(1, sum));
    }

    private static double[] Posterior(
        ChangeWalk walk, bool worse, int history, ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, ChangeOddsOptions options)
    {
        var grid = walk.Grid;
        var ratios = options.OddsRatios.Length;
        var chances = new double[bad.Length];
        var product = new double[grid.Cells];
        for (var alternative = worse ? 0 : ratios; alternative < (worse ? ratios : 2 * ratios); alternative++)
        {
            walk.Weights.CopyTo(product);
            for (var month = bad.Length - 1; month >= 0; month--)
            {
                var (x, from, y, to) = grid.Likelihood(alternative, history + month, bad[month], eligible[month]);
                for (var cell = 0; cell < grid.Cells; cell++)
                {
                    product[cell] = Math.Min(ChangeWalk.Most, product[cell] * (x[from + cell] * y[to + cell]));
                    chances[month] += product[cell];
                }
            }
        }
        chances[0] *= 1 + options.HeadStart;
        var sum = chances.Sum();
        return [.. chances.Select(chance => chance / sum)];
    }
}
