using Outcomes.Statistics;

namespace Outcomes.Tests;

public class MonthlyLimitTests
{
    private static MonthlyLimits Limits(int events, int cases, int months, Pace pace = Pace.Default, int measures = 6) =>
        MonthlyLimit.Find(new(events, cases), months, MonthlyTestOptions.Joint with { Pace = pace, Measures = measures });

    [Theory]
    // 4 of 60 in 12 months, by hand: p = 6.5/81, p⁺ = 0.117980, μ⁺ = 0.520302; 2.2 + 0.55 ln 0.520302 − 0.15 (1 − 0.520302/4) = 1.710171,
    // and 0.52 ln(0.0174068/α) with α = 1 − (1 − budget)^(1/6): 0.0085124 (strict), 0.0365075 (faster).
    [InlineData(Pace.Default, 1.710171)]
    [InlineData(Pace.Strict, 1.710171 + 0.371973)]
    [InlineData(Pace.Faster, 1.710171 - 0.385142)]
    public void Limit_is_that_of_the_formula_worked_by_hand(Pace pace, double expected)
    {
        var limits = Limits(4, 60, 12, pace);
        Assert.Equal(expected, limits.Worse, 2e-6);
        Assert.Equal(limits.Worse - 0.45, limits.Better, 1e-12);
        Assert.Equal(1 / (1 + Math.Exp(-limits.Worse)), limits.WorseChance, 1e-12);
        // The early leg has the limit of the change odds less 0.1.
        Assert.Equal(ChangeLimit.OfHistory(4, 60, 12, new() { Pace = pace }) - 0.1, limits.EarlyLogOdds!.Value, 1e-12);
    }

    [Fact]
    public void A_measure_more_asks_for_more_and_many_events_reach_the_largest_limit()
    {
        Assert.True(Limits(17, 120, 12, measures: 8).Worse > Limits(17, 120, 12).Worse);
        Assert.Equal(3.25, Limits(500, 2_400, 24).Worse, 1e-12);
        Assert.Equal(3.25, Limits(900, 4_800, 24).Worse, 1e-12);
    }

    [Fact]
    public void Only_a_small_unit_with_a_short_history_is_asked_for_less()
    {
        double Saved(int events, int cases) => MonthlyLimit.Find(new(events, cases), 12,
            MonthlyTestOptions.Joint with { LimitCurve = MonthlyTestOptions.Joint.LimitCurve with { ShortHistory = 0 } }).Worse
            - Limits(events, cases, 12).Worse;
        Assert.InRange(Saved(4, 60), 0.1, 0.15);
        Assert.Equal(0, Saved(150, 600), 1e-12);
    }

    [Fact]
    public void The_filter_alone_has_one_limit_and_no_early_leg()
    {
        var limits = MonthlyLimit.Find(new(17, 120), 12, MonthlyTestOptions.FilterAlone);
        Assert.Equal(limits.Worse, limits.Better);
        Assert.Null(limits.EarlyLogOdds);
    }
}
