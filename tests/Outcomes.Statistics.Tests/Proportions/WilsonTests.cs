using CsCheck;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class WilsonTests
{
    private const string File = "wilson.json";

    public static TheoryData<string> Published => Check.Ids(File);

    internal static readonly Gen<(long Met, long Eligible)> AnyCount =
        Gen.Long[1, 100_000].SelectMany(eligible => Gen.Long[0, eligible].Select(met => (met, eligible)));

    [Theory]
    [MemberData(nameof(Published))]
    public void Equals_the_published_interval(string id)
    {
        var check = Check.Find(File, id);
        var (lower, upper) = Wilson.Interval(check.Integer("met"), check.Integer("eligible"));
        check.Holds(("lower", lower), ("upper", upper));
    }

    [Fact]
    public void None_met_is_exactly_0_and_all_met_exactly_1()
    {
        // Other implementations have given 1.4e-17 for 0/77 and 0.9999999999999999 for 38/38 (statsmodels issue 7386).
        for (var n = 1; n <= 2_000; n++)
        {
            Assert.Equal(0, Wilson.Interval(0, n).Lower);
            Assert.Equal(1, Wilson.Interval(n, n).Upper);
            Assert.InRange(Wilson.Interval(0, n).Upper, 1e-4, 0.8);
        }
    }

    [Fact]
    public void Lies_in_order_within_0_and_1() => Gen.Select(AnyCount, Gen.Double[0.5, 0.999]).Sample((count, level) =>
    {
        var (lower, upper) = Wilson.Interval(count.Met, count.Eligible, level);
        var value = (double)count.Met / count.Eligible;
        Assert.True(lower >= 0 && lower <= value && value <= upper && upper <= 1, $"{lower} {value} {upper}");
        Assert.True(upper > lower);
    });

    [Fact]
    public void Mirrors_when_met_and_not_met_change_places() => AnyCount.Sample(count =>
    {
        var (lower, upper) = Wilson.Interval(count.Met, count.Eligible);
        var mirror = Wilson.Interval(count.Eligible - count.Met, count.Eligible);
        Assert.Equal(lower, 1 - mirror.Upper, 1e-14);
        Assert.Equal(upper, 1 - mirror.Lower, 1e-14);
    });

    [Fact]
    public void Is_narrower_with_more_records_and_wider_at_a_higher_level() => AnyCount.Sample(count =>
    {
        var few = Wilson.Interval(count.Met, count.Eligible);
        var many = Wilson.Interval(count.Met * 2, count.Eligible * 2);
        var sure = Wilson.Interval(count.Met, count.Eligible, 0.99);
        Assert.True(many.Upper - many.Lower < few.Upper - few.Lower);
        Assert.True(sure.Upper - sure.Lower > few.Upper - few.Lower);
    });

    [Fact]
    public void Each_end_solves_the_score_equation() => AnyCount.Sample(count =>
    {
        // The definition: an end p lies z standard errors, taken at p itself, from the proportion seen.
        var (lower, upper) = Wilson.Interval(count.Met, count.Eligible);
        double n = count.Eligible, value = count.Met / n;
        foreach (var p in new[] { lower, upper }.Where(p => p is > 0 and < 1))
            Assert.Equal(Normal.Z95 * Math.Sqrt(p * (1 - p) / n), Math.Abs(value - p), 1e-9);
    });

    [Theory]
    [InlineData(-1, 10, 0.95)]
    [InlineData(11, 10, 0.95)]
    [InlineData(0, 0, 0.95)]
    [InlineData(1, 10, 0)]
    [InlineData(1, 10, 1)]
    [InlineData(1, 10, double.NaN)]
    public void Refuses_what_is_no_count_and_no_level(long met, long eligible, double level) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Wilson.Interval(met, eligible, level));
}
