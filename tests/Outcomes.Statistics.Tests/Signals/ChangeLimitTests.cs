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
        Assert.All<(long, long)>([(2, 60), (17, 120), (100, 600)],
            history => Assert.True(Limit(history.Item1, history.Item2, 12, careful) > Limit(history.Item1, history.Item2, 12, less)));

    [Theory]
    // 4 of 60 in 12 months, by hand from the formula of docs/statistics/signals.md: p = 6.5/81, p⁺ = 0.11798, μ = 0.52031; α = 1 − (1 −
    // budget)^(1/6); 0.4 · 20/80 = 0.1 lower but for strict.
    [InlineData(Pace.Strict, 5.765536)]
    [InlineData(Pace.Default, 5.460538 - 0.1)]
    [InlineData(Pace.Faster, 5.144744 - 0.1)]
    public void The_limit_adds_two_bad_events_in_twenty_cases_to_the_history(Pace pace, double expected) =>
        Assert.Equal(expected, Limit(4, 60, 12, pace), 1e-6);

    [Fact]
    public void In_a_small_unit_the_added_cases_keep_a_good_history_from_lowering_the_limit_much()
    {
        ChangeOddsOptions options = new(), alone = options with { LimitCurve = options.LimitCurve with { AddedCases = 0, AddedBad = 0 } };
        double Luck(ChangeOddsOptions with) => ChangeLimit.OfHistory(5, 60, 12, with) - ChangeLimit.OfHistory(1, 60, 12, with);
        Assert.True(Luck(options) < 0.85 * Luck(alone));
        // The cases themselves hardly weigh in a large unit.
        Assert.Equal(ChangeLimit.OfHistory(90, 600, 12, alone), ChangeLimit.OfHistory(90, 600, 12, options), 0.03);
        Assert.Equal(ChangeLimit.AtRate(5, (4.5 / 61) + (1.25 * Math.Sqrt(4.5 * 56.5 / Math.Pow(61, 3))), 12, alone),
            ChangeLimit.OfHistory(4, 60, 12, alone), 1e-12);
    }

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
