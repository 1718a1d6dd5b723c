using System.Collections.Immutable;
using Outcomes.Statistics;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.Monthly;

/// <summary>How departments differ in their chance of a false signal on six measures by the luck of their own histories.</summary>
/// <param name="Percentiles">The 10th, 50th and 90th.</param>
/// <param name="Errors">Their standard errors.</param>
/// <param name="Mean">Over all departments.</param>
/// <param name="AtMostBudget">The share of departments with at most 10 %.</param>
internal sealed record OwnLuck(ImmutableArray<double> Percentiles, ImmutableArray<double> Errors, double Mean, double AtMostBudget)
{
    private const int Departments = 200_000, ResampledDepartments = 40_000, Resamples = 40, Steps = 200, Chunk = 10;

    private static readonly double[] Shares = [0.1, 0.5, 0.9];

    /// <summary>Chances of a signal of one measure, from 1 in 100,000 to 9 in 10 by equal steps of the logarithm.</summary>
    private static readonly double[] Grid = [.. Enumerable.Range(0, 60).Select(i => 1e-5 * Math.Pow(0.9 / 1e-5, i / 59.0))];

    /// <summary>
    /// The distribution of a measure's chance over histories is the one under which the counts are likeliest, which leaves out the chance
    /// of the futures drawn (nonparametric maximum likelihood of a binomial mixture by EM: Laird N. J Am Stat Assoc 1978;73:805-811, from
    /// memory). Departments are put together from six measures with independent histories. Standard errors: histories drawn anew, those
    /// drawn evenly within tens of neighbours (a stratified bootstrap).
    /// </summary>
    public static OwnLuck Estimate(IReadOnlyList<ConditionRow> rows, double volume, double correlation)
    {
        var uniform = SplitMix64.Uniform(ConditionStudy.Seed);
        var counts = FalseAlarms.Six.ToDictionary(six => six.Rate, six => rows.Where(row => row.Part == OwnHistories.Part
            && row.Volume == volume && row.Correlation == correlation && row.Figure == StableAndChanged.Name(six.Rate)).ToArray());
        var families = Families(counts, row => row.Counts, Departments, uniform);
        double[][] again = [.. Enumerable.Range(0, Resamples).Select(_ =>
            At(Families(counts, row => Resample(row, uniform), ResampledDepartments, uniform)))];
        return new([.. At(families)], [.. Shares.Select((_, i) => Deviation([.. again.Select(each => each[i])]))], families.Average(),
            families.Count(chance => chance <= 0.1) / (double)Departments);
    }

    private static ImmutableArray<int> Resample(ConditionRow row, Func<double> uniform) => row.Condition == OwnHistories.Drawn
        ? [.. row.Counts.Select(_ => row.Counts[(int)(uniform() * row.Counts.Length)])]
        : [.. row.Counts.Chunk(Chunk).SelectMany(chunk => chunk.Select(_ => chunk[(int)(uniform() * chunk.Length)]))];

    private static double[] Families(
        Dictionary<double, ConditionRow[]> rows, Func<ConditionRow, ImmutableArray<int>> counts, int departments, Func<double> uniform)
    {
        var running = rows.ToDictionary(pair => pair.Key, pair => Running(Mixture(
            [.. pair.Value.SelectMany(row => counts(row).Select(count => (count, row.Of)))])));
        return [.. Enumerable.Range(0, departments).Select(_ => 1 - SixDraws.Rates.Aggregate(1.0, (quiet, rate) =>
        {
            var at = Array.BinarySearch(running[rate], uniform());
            return quiet * (1 - Grid[Math.Min(Grid.Length - 1, at < 0 ? ~at : at)]);
        })).Order()];
    }

    /// <summary>The weight of each chance of the grid.</summary>
    public static double[] Mixture(IReadOnlyList<(int Count, int Of)> counts)
    {
        var seen = counts.GroupBy(each => each).Select(group => (group.Key.Count, group.Key.Of, Times: group.Count())).ToArray();
        double[][] likelihood = [.. seen.Select(each => Likelihood(each.Count, each.Of))];
        double[] weights = [.. Grid.Select(_ => 1.0 / Grid.Length)];
        for (var step = 0; step < Steps; step++)
        {
            var next = new double[Grid.Length];
            for (var i = 0; i < seen.Length; i++)
            {
                var all = 0.0;
                for (var at = 0; at < Grid.Length; at++)
                    all += weights[at] * likelihood[i][at];
                for (var at = 0; at < Grid.Length; at++)
                    next[at] += seen[i].Times * weights[at] * likelihood[i][at] / (all * counts.Count);
            }
            weights = next;
        }
        return weights;
    }

    // Relative to the likeliest chance, so that no power is too small to be a number.
    private static double[] Likelihood(int count, int of)
    {
        double[] logs = [.. Grid.Select(chance => (count * Math.Log(chance)) + ((of - count) * Math.Log(1 - chance)))];
        return [.. logs.Select(log => Math.Exp(log - logs.Max()))];
    }

    private static double[] Running(double[] weights)
    {
        var running = new double[weights.Length];
        for (var at = 0; at < weights.Length; at++)
            running[at] = (at == 0 ? 0 : running[at - 1]) + weights[at];
        return running;
    }

    private static double[] At(double[] sorted) => [.. Shares.Select(share => sorted[(int)(share * sorted.Length)])];

    private static double Deviation(double[] values)
    {
        var mean = values.Average();
        return Math.Sqrt(values.Sum(value => (value - mean) * (value - mean)) / (values.Length - 1));
    }
}
