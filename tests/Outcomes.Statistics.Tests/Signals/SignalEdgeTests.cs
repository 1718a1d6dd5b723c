using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Edges of the change signals that mutation testing found untested.</summary>
public class SignalEdgeTests
{
    private static Count[] Alike(int months, long met, long eligible) => [.. Enumerable.Repeat(new Count(met, eligible, 0), months)];

    [Theory]
    [InlineData(true, new[] { 2.0 })]
    [InlineData(false, new[] { 2.0 })]
    [InlineData(true, new[] { 1.5, 2, 3 })]
    [InlineData(false, new[] { 1.5, 2, 3 })]
    public void A_range_grows_from_its_likeliest_month_to_the_likelier_side_within_the_reports(bool worse, double[] ratios)
    {
        // 8 of 40 is the rate. Weak months from the first on; weak ones and one that nobody could miss at the end; something of both.
        int[][] series = worse
            ? [[12, 12, 12, 12, 12, 12, 12, 12, 12, 12], [10, 10, 10, 10, 10, 26], [8, 11, 9, 12, 13, 12, 13, 12, 14, 12]]
            : [[5, 4, 5, 4, 5, 4, 5, 4, 5, 4, 5, 4, 5, 4, 5, 4, 5, 4, 5, 4], [7, 6, 6, 6, 7, 5, 6, 4, 5, 2, 3, 1, 1, 0, 0, 0, 0]];
        foreach (var bad in series)
        {
            var options = Known(ratios);
            var change = ChangeOdds.Read(Alike(12, 200_000, 1_000_000), [.. bad.Select(x => new Count(x, 40, 0))],
                Better.Down, options).Change;
            Assert.NotNull(change);
            Assert.Equal(worse, change.ForTheWorse);
            var chances = new double[change.Report + 1];
            foreach (var given in ratios)
            {
                var ratio = worse ? given : 1 / given;
                for (var k = 0; k < chances.Length; k++)
                    chances[k] += Enumerable.Range(k, change.Report + 1 - k)
                        .Aggregate(1.0, (product, m) => product * Math.Pow(ratio, bad[m]) / Math.Pow(0.8 + (0.2 * ratio), 40));
            }
            var sum = chances.Sum();
            var start = change.Start;
            Assert.Equal(Array.IndexOf(chances, chances.Max()), start.Likeliest);
            Assert.InRange(start.From, 0, start.Likeliest);
            Assert.InRange(start.To, start.Likeliest, change.Report);
            Assert.Equal(chances[start.From..(start.To + 1)].Sum() / sum, start.Chance, 1e-4);
            // It holds 80 %, and without its less likely end it would not.
            Assert.True(start.Chance >= 0.8);
            if (start.From < start.To)
                Assert.True(start.Chance - (Math.Min(chances[start.From], chances[start.To]) / sum) < 0.8);
        }
    }

    [Fact]
    public void Months_that_are_no_counts_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => ChangeOdds.Read(Alike(12, 4, 20), [new(21, 20, 0)], Better.Down));
        Assert.Throws<ArgumentOutOfRangeException>(() => ChangeOdds.Read([.. Alike(11, 4, 20), new(-1, 20, 0)], [], Better.Up));
        Assert.Throws<ArgumentOutOfRangeException>(() => ChangeOdds.Read(Alike(12, 4, 20), Alike(37, 4, 20), Better.Down));
        Assert.Throws<OverflowException>(() => ChangeOdds.Read(Alike(12, 4, 20), [new(1, 5_000_000_000, 0)], Better.Down));
        Assert.Throws<OverflowException>(() => ChangeOdds.Read(Alike(12, 4, 20), [new(4_000_000_000, 4_000_000_000, 0)], Better.Down));
        Assert.Equal(36, ChangeOdds.Read(Alike(12, 4, 20), Alike(36, 4, 20), Better.Down).Months.Length);
    }

    [Fact]
    public void A_smaller_budget_raises_the_limit_as_the_formula_says()
    {
        // docs/statistics/signals.md: μ/(μ + 0.7) · ln(0.0174/α) on top, with μ = volume · rate · (1 − rate).
        foreach (var (volume, rate) in new[] { (5.0, 0.05), (10, 0.15), (50, 0.3) })
        {
            var mu = volume * rate * (1 - rate);
            var ordinary = ChangeLimit.AtRate(volume, rate, 24, new());
            foreach (var pace in new[] { Pace.Strict, Pace.Faster })
            {
                ChangeOddsOptions options = new() { Pace = pace };
                Assert.Equal(mu / (mu + 0.7) * Math.Log(ChangeLimit.Fitted / ChangeLimit.Budget(options)),
                    ChangeLimit.AtRate(volume, rate, 24, options) - ordinary, 1e-9);
            }
            Assert.Equal(8.1 - ((4.07 - (0.56 * Math.Log(2))) / (1 + (mu / 0.96))), ordinary, 1e-9);
        }
        Assert.Throws<ArgumentOutOfRangeException>("months", () => ChangeLimit.OfHistory(3, 50, 0, new()));
        Assert.Throws<ArgumentOutOfRangeException>("pace", () => ChangeLimit.Family((Pace)9));
    }

    [Fact]
    public void The_start_of_a_change_is_a_range_within_the_reports()
    {
        // A change in the last report only, after a long quiet time, and one in the first.
        Count[] history = [.. Enumerable.Repeat(new Count(100, 1000, 0), 12)];
        Count[] Reports(int quiet, int changed) => [
            .. Enumerable.Repeat(new Count(100, 1000, 0), quiet), .. Enumerable.Repeat(new Count(170, 1000, 0), changed)
        ];
        var late = ChangeOdds.Read([.. history], [.. Reports(6, 1)], Better.Down).Change!;
        Assert.Equal((6, 6, 6), (late.Start.Likeliest, late.Start.From, late.Start.To));
        var early = ChangeOdds.Read([.. history], [.. Reports(0, 1)], Better.Down).Change!;
        Assert.Equal((0, 0, 0, 1), (early.Start.Likeliest, early.Start.From, early.Start.To, early.Start.Chance));
        // The better way has ratios of its own.
        Count[] better = [.. Enumerable.Repeat(new Count(100, 1000, 0), 4), .. Enumerable.Repeat(new Count(45, 1000, 0), 2)];
        var fewer = ChangeOdds.Read([.. history], [.. better], Better.Down).Change!;
        Assert.Equal((false, 4), (fewer.ForTheWorse, fewer.Start.Likeliest));
        Assert.InRange(fewer.Start.Chance, 0.8, 1);
    }

    private static ChangeOddsOptions Known(double[] ratios) => new()
    {
        Pace = Pace.Faster,
        OddsRatios = [.. ratios],
        WorseWeight = 0.5,
        HeadStart = 0,
        Variations = [1e-9],
        VariationWeights = [1],
        GridPoints = 1,
    };
}
