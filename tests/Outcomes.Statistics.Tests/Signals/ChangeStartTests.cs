using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>
/// When a change may have started, against the posterior written out: with a rate known from millions of cases and one odds ratio r, a
/// start in report k has the weight of the product, from k on, of the binomial likelihood ratios r^x / (1 - p + rp)^n, the first with the
/// head start on top.
/// </summary>
public class ChangeStartTests
{
    private const double Rate = 0.2;
    private const int Cases = 40;

    [Theory]
    [InlineData(0, true, 0)]
    [InlineData(0, true, 12)]
    [InlineData(3, true, 0)]
    [InlineData(7, true, 3)]
    [InlineData(12, true, 0)]
    [InlineData(0, false, 12)]
    [InlineData(4, false, 0)]
    [InlineData(10, false, 2)]
    public void Start_range_and_chance_are_those_of_the_posterior_written_out(int start, bool worse, double headStart)
    {
        // 8 of 40 is the rate; then 13 and 14, or 5 and 4, by turns.
        int[] bad = [.. Enumerable.Range(0, 30).Select(i => i < start ? 7 + (i % 3) : worse ? 13 + (i % 2) : 5 - (i % 2))];
        var reading = ChangeOdds.Read([.. Enumerable.Repeat(new Count(200_000, 1_000_000, 0), 12)],
            [.. bad.Select(x => new Count(x, Cases, 0))], Better.Down, Known(headStart));
        var change = Assert.IsType<Change>(reading.Change);
        Assert.Equal(worse, change.ForTheWorse);

        var ratio = worse ? 2 : 0.5;
        var chances = new double[change.Report + 1];
        for (var k = 0; k < chances.Length; k++)
        {
            chances[k] = k == 0 ? 1 + headStart : 1;
            for (var m = k; m <= change.Report; m++)
                chances[k] *= Math.Pow(ratio, bad[m]) / Math.Pow(1 - Rate + (ratio * Rate), Cases);
        }

        var sum = chances.Sum();
        // One peak: then the likeliest months that hold 80 % stand side by side, and are the range.
        var likeliest = Enumerable.Range(0, chances.Length).OrderByDescending(k => chances[k]).ToArray();
        var range = Enumerable.Range(1, chances.Length).Select(n => likeliest[..n])
            .First(months => months.Sum(k => chances[k]) >= 0.8 * sum);
        Assert.Equal(range.Length - 1, range.Max() - range.Min());
        Assert.Equal((likeliest[0], range.Min(), range.Max()), (change.Start.Likeliest, change.Start.From, change.Start.To));
        Assert.Equal(range.Sum(k => chances[k]) / sum, change.Start.Chance, 1e-3);
    }

    [Fact]
    public void A_change_that_nobody_could_miss_has_one_start_with_nine_chances_in_ten_or_more()
    {
        var reading = ChangeOdds.Read(
            [.. Enumerable.Repeat(new Count(100, 1000, 0), 12)],
            [.. Enumerable.Repeat(new Count(100, 1000, 0), 5), .. Enumerable.Repeat(new Count(300, 1000, 0), 2)], Better.Down);
        Assert.Equal((5, 5, 5), (reading.Change!.Start.Likeliest, reading.Change.Start.From, reading.Change.Start.To));
        Assert.InRange(reading.Change.Start.Chance, 0.9, 1);
    }

    private static ChangeOddsOptions Known(double headStart) => new()
    {
        OddsRatios = [2],
        WorseWeight = 0.5,
        HeadStart = headStart,
        Variations = [1e-9],
        VariationWeights = [1],
        GridPoints = 1,
    };
}
