using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ChangeLimitTests
{
    private static double Limit(long bad, long eligible, int months, Pace pace = Pace.Default, int measures = 6) =>
        ChangeLimit.OfHistory(bad, eligible, months, new() { Pace = pace, Measures = measures });

    [Fact]
    public void The_proved_limit_is_that_of_Ville()
    {
        // P(sup S ≥ c) ≤ E S / c (Ville 1939, from memory): 36 reports and a head start of 12 against 1 − 0.9^(1/6) = 1.7407 %.
        Assert.Equal(Math.Log(48 / 0.0174068061), Limit(17, 120, 12, Pace.Proof), 1e-6);
        Assert.Equal(Limit(17, 120, 12, Pace.Proof), Limit(1, 4_000, 24, Pace.Proof));
    }

    [Theory]
    [InlineData(Pace.Strict, Pace.Default)]
    [InlineData(Pace.Default, Pace.Faster)]
    public void A_more_careful_pace_asks_for_more(Pace careful, Pace less) =>
        Assert.All<(long, long)>([(2, 60), (17, 120), (100, 600)], history => Assert.True(Limit(history.Item1, history.Item2, 12, careful) > Limit(history.Item1, history.Item2, 12, less)));

    [Fact]
    public void More_measures_more_cases_and_a_higher_rate_ask_for_more()
    {
        Assert.True(Limit(17, 120, 12, measures: 8) > Limit(17, 120, 12));
        Assert.True(Limit(34, 240, 12) > Limit(17, 120, 12));
        Assert.True(Limit(34, 120, 12) > Limit(17, 120, 12));
        // As many cases a month, better known.
        Assert.True(Limit(34, 240, 24) > Limit(17, 120, 12));
    }

    [Fact]
    public void The_budget_of_all_measures_is_that_of_the_pace()
    {
        Assert.All(Enum.GetValues<Pace>(), pace => Assert.All([1, 4, 6, 20], measures =>
        {
            var one = ChangeLimit.Budget(new() { Pace = pace, Measures = measures });
            Assert.Equal(ChangeLimit.Family(pace), 1 - Math.Pow(1 - one, measures), 1e-12);
        }));
        Assert.Equal(ChangeLimit.Fitted, ChangeLimit.Budget(new()), 1e-9);
    }

    [Fact]
    public void A_rate_above_one_half_is_taken_as_one_half() => Assert.Equal(Limit(300, 500, 12), Limit(490, 500, 12));

    [Theory]
    [InlineData(-1, 10, 12)]
    [InlineData(11, 10, 12)]
    [InlineData(0, 0, 12)]
    [InlineData(1, 10, 0)]
    public void An_impossible_history_is_refused(long bad, long eligible, int months) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Limit(bad, eligible, months));
}
