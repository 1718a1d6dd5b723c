using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class SimulatedChanceTests
{
    private static Series Of(int months, double rate, params long[] eligible) =>
        new(2023, 1, [.. Enumerable.Range(0, months)
            .Select(i => new Count((long)Math.Round(rate * eligible[i % eligible.Length]), eligible[i % eligible.Length], 0))]);

    private static RunChart Analyse(Series series, int baseline, int replicates, ulong seed) =>
        RunCharts.Analyse(series, new() { BaselineMonths = baseline, Replicates = replicates, Uniform = SplitMix64.Uniform(seed) });

    [Theory]
    [MemberData(nameof(Cases))]
    public void Equals_an_independent_simulation(string id)
    {
        var check = Check.Find("simulated_chance.json", id);
        long[] eligible = [.. check.Inputs["eligible"]!.AsArray().Select(node => node!.GetValue<long>())];
        var baseline = (int)check.Integer("baseline_months");
        var counts = check.Inputs["met"]!.AsArray()
            .Select((node, i) => new Count(node!.GetValue<long>(), eligible[i], 0)).ToImmutableArray();
        var chart = Analyse(new(2023, 1, counts), baseline, 20_000, 11);
        Assert.Equal(ChanceMethod.Simulated, chart.ChanceMethod);
        var expected = check.Expected["chance"]!.GetValue<double>();
        // Both are simulated, with 20,000 and 40,000 charts: four standard errors of the difference.
        var error = 4 * Math.Sqrt(expected * (1 - expected) * ((1 / 20_000.0) + (1 / 40_000.0)));
        Assert.Equal(expected, chart.Chance!.Value, error);
    }

    public static TheoryData<string> Cases => Check.Ids("simulated_chance.json");

    [Fact]
    public void The_same_seed_gives_the_same_chance_and_another_seed_nearly_the_same()
    {
        var series = Of(36, 0.8, 14, 9, 11);
        var one = Analyse(series, 12, 2_000, 5).Chance;
        Assert.Equal(one, Analyse(series, 12, 2_000, 5).Chance);
        Assert.NotEqual(one, Analyse(series, 12, 2_000, 6).Chance);
        Assert.Equal(one!.Value, Analyse(series, 12, 2_000, 6).Chance!.Value, 0.06);
    }

    [Fact]
    public void Fair_coins_are_kept_where_they_hold_and_without_a_random_source()
    {
        var alike = new Series(2023, 1, [.. Enumerable.Range(0, 24).Select(i => new Count(10 + (i % 2), 30, 0))]);
        Assert.Equal(ChanceMethod.FairCoin, Analyse(alike, 24, 2_000, 1).ChanceMethod);
        Assert.Equal(ChanceMethod.FairCoin, RunCharts.Analyse(alike).ChanceMethod);
    }

    [Theory]
    // Holds: the baseline covers all, no ties, denominators alike.
    [InlineData(24, 0, 20, 40, true)]
    // A baseline frozen on part of the points.
    [InlineData(12, 0, 20, 20, false)]
    // 6 of 24 on the median is a quarter, 8 is more.
    [InlineData(24, 6, 20, 20, true)]
    [InlineData(24, 8, 20, 20, false)]
    // A point with more than twice the cases of another.
    [InlineData(24, 0, 20, 41, false)]
    public void Says_when_sides_are_no_fair_coins(int baseline, int onMedian, long eligible, long largest, bool holds)
    {
        // As many points at 25 % as at 75 %, the rest at the median of 50 %.
        var counts = Enumerable.Range(0, 24).Select(i => new Count(i < onMedian ? 10 : i % 2 == 0 ? 5 : 15, 20, 0)).ToArray();
        counts = [.. counts.Select(count => new Count(count.Met * eligible / 20, eligible, 0))];
        counts[^1] = new Count(counts[^1].Met * largest / eligible, largest, 0);
        var chart = RunCharts.Analyse(new(2023, 1, [.. counts]), new() { BaselineMonths = baseline });
        Assert.Equal(onMedian, chart.OnMedian);
        Assert.Equal(holds, RunCharts.FairCoinHolds(chart));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void A_baseline_at_the_edge_has_no_chance_of_crossing_it(double rate)
    {
        long[] eligible = [12, 30];
        var series = Of(24, rate, eligible);
        // One month off the edge, after the baseline, so that there is a useful point.
        series = series with { Counts = series.Counts.SetItem(23, new Count(6, 30, 0)) };
        Assert.Equal(0, Analyse(series, 12, 500, 3).Chance);
    }

    [Fact]
    public void At_least_one_replicate_is_asked_for() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Analyse(Of(36, 0.6, 10, 20, 30), 12, 0, 1));
}
