using CsCheck;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ClopperPearsonTests
{
    private const string File = "clopper_pearson.json";
    private const string NoneFile = "upper_when_none.json";

    public static TheoryData<string> Published => Check.Ids(File);

    public static TheoryData<string> PublishedWhenNone => Check.Ids(NoneFile);

    [Theory]
    [MemberData(nameof(Published))]
    public void Equals_the_published_interval(string id)
    {
        var check = Check.Find(File, id);
        var (lower, upper) = ClopperPearson.Interval(check.Integer("met"), check.Integer("eligible"));
        check.Holds(("lower", lower), ("upper", upper));
    }

    [Theory]
    [MemberData(nameof(PublishedWhenNone))]
    public void None_seen_is_bounded_exactly_and_about_as_the_rule_of_three_says(string id)
    {
        var check = Check.Find(NoneFile, id);
        var eligible = check.Integer("eligible");
        var upper = ClopperPearson.UpperWhenNone(eligible);
        check.Holds(("upper", upper), ("two_sided_upper", ClopperPearson.Interval(0, eligible).Upper), ("rule_of_three", 3.0 / eligible));
        Assert.InRange(upper, 0.85 * 3 / eligible, 3.0 / eligible);
    }

    [Fact]
    public void None_of_thirty_leaves_9_5_percent_possible() => Assert.Equal(0.095, ClopperPearson.UpperWhenNone(30), 5e-4);

    [Fact]
    public void Each_end_leaves_exactly_half_of_alpha_in_a_binomial_tail()
    {
        for (var n = 1; n <= 60; n += 7)
            for (var met = 0; met <= n; met++)
                foreach (var level in new[] { 0.8, 0.95, 0.999999 })
                {
                    var (lower, upper) = ClopperPearson.Interval(met, n, level);
                    var tail = (1 - level) / 2;
                    if (met > 0)
                        Assert.Equal(1, Binomial.AtLeast(met, n, lower) / tail, 1e-10);
                    // An end next to 1 is a double, whose distance from 1 has only so many digits.
                    if (met < n)
                        Assert.Equal(1, Binomial.AtLeast(n - met, n, 1 - upper) / tail, 1e-10 + (1e-15 / (1 - upper)));
                }
    }

    [Fact]
    public void Covers_every_true_proportion_at_its_level()
    {
        const int n = 25;
        var intervals = Enumerable.Range(0, n + 1).Select(met => ClopperPearson.Interval(met, n)).ToArray();
        for (var p = 0.001; p < 1; p += 0.001)
        {
            var covered = Enumerable.Range(0, n + 1).Where(met => intervals[met].Lower <= p && p <= intervals[met].Upper)
                .Sum(met => Binomial.Probability(met, n, p));
            Assert.True(covered >= 0.95 - 1e-12, $"at {p} it covers {covered}");
        }
    }

    [Fact]
    public void Lies_in_order_mirrors_and_is_nearly_always_wider_than_the_score_interval() =>
        Gen.Long[1, 20_000].SelectMany(n => Gen.Long[0, n].Select(k => (Met: k, Eligible: n))).Sample(count =>
        {
            var (lower, upper) = ClopperPearson.Interval(count.Met, count.Eligible);
            var value = (double)count.Met / count.Eligible;
            Assert.True(lower >= 0 && lower <= value && value <= upper && upper <= 1);
            var mirror = ClopperPearson.Interval(count.Eligible - count.Met, count.Eligible);
            Assert.Equal(lower, 1 - mirror.Upper, 1e-14);
            Assert.Equal(upper, 1 - mirror.Lower, 1e-14);
        });

    [Fact]
    public void Rare_events_in_a_million_records_keep_their_digits()
    {
        // Limit of rare events: the exact limits of a Poisson count of 1 are 0.02532 and 5.57164 (Garwood F. Biometrika 1936;28:437-442).
        var (lower, upper) = ClopperPearson.Interval(1, 1_000_000);
        Assert.Equal(0.02532, lower * 1e6, 1e-5);
        Assert.Equal(5.57164, upper * 1e6, 2e-5);
    }
}
