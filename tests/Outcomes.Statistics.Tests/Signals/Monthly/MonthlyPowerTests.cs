using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class MonthlyPowerTests
{
    private static EventCount[] Alike(int months, int events, int cases) => MonthlyTestTests.Alike(months, events, cases);

    private static ChangeDetection? Power(
        ImmutableArray<EventCount> months, double named, ulong seed = 1, ImmutableArray<double>[]? expected = null) =>
        MonthlyTestPower.Simulate(months, 24, named, new(SplitMix64.Uniform(seed), 12, 2_000), null, expected);

    [Fact]
    public void A_larger_change_and_a_larger_unit_are_noticed_more_often()
    {
        double Within(int cases, double named) => Power([.. Alike(36, cases / 5, cases)], named)!.Within(12);
        Assert.True(Within(20, 0.40) > Within(20, 0.30) + 0.1);
        Assert.True(Within(60, 0.30) > Within(20, 0.30) + 0.2);
    }

    [Fact]
    public void Chances_grow_with_the_months_and_the_seed_repeats_them()
    {
        var (one, same) = (Power([.. Alike(30, 4, 20)], 0.35)!, Power([.. Alike(30, 4, 20)], 0.35)!);
        Assert.Equal(one.Noticed, same.Noticed);
        Assert.Equal(12, one.Noticed.Length);
        Assert.All(one.Noticed.Zip(one.Noticed.Skip(1)), pair => Assert.True(pair.First <= pair.Second));
        Assert.NotEqual(one.Noticed, Power([.. Alike(30, 4, 20)], 0.35, 2)!.Noticed);
    }

    [Fact]
    public void Power_starts_from_the_level_now_and_not_from_that_of_the_history()
    {
        // From 10 to 30 % inside the reports, long ago; the next step is to 40 %. From 10 % it would be noticed nearly always.
        ImmutableArray<EventCount> moved = [.. Alike(24, 3, 30), .. Alike(24, 9, 30)], never = [.. Alike(48, 3, 30)];
        Assert.True(Power(never, 0.40)!.Within(12) > 0.95);
        Assert.InRange(Power(moved, 0.40)!.Within(12), 0.05, 0.75);
        // And back to 10 % is a change for the better now.
        Assert.True(Power(moved, 0.10)!.Within(12) > 0.8);
    }

    [Fact]
    public void Only_signals_the_right_way_count()
    {
        // A hair above the level now: signals within a year are false ones, and rare either way.
        ImmutableArray<EventCount> months = [.. Alike(36, 5, 25)];
        var level = MonthlyTest.Run(months, 24).Current!.Median;
        Assert.InRange(Power(months, level + 0.001)!.Within(12), 0, 0.08);
        Assert.InRange(Power(months, level - 0.001)!.Within(12), 0, 0.08);
        Assert.Null(MonthlyTestPower.Simulate([.. Alike(11, 1, 10)], 11, 0.5, new(SplitMix64.Uniform(1))));
    }

    [Fact]
    public void With_one_chance_for_all_cases_power_is_that_without_case_mix()
    {
        ImmutableArray<EventCount> months = [.. Alike(36, 4, 20)];
        var chance = 1 / (1 + Math.Exp(1.6));
        ImmutableArray<double>[] expected = [.. months.Select(month => Enumerable.Repeat(chance, month.Cases).ToImmutableArray())];
        Assert.Equal(Power(months, 0.35)!.Within(12), Power(months, 0.35, 1, expected)!.Within(12), 0.005);
        ImmutableArray<double>[] mixed =
            [.. months.Select(month => Enumerable.Range(0, month.Cases).Select(i => i % 2 == 0 ? 0.05 : 0.4).ToImmutableArray())];
        Assert.InRange(Power(months, 0.35, 1, mixed)!.Within(12), Power(months, 0.35)!.Within(12) - 0.1, 1);
    }

    [Fact]
    public void Continuations_agree_with_departments_drawn_from_scratch()
    {
        // Among departments whose level is known as well as can be, a year of the same truth: 20 to 35 % at 25 a month.
        ImmutableArray<EventCount> months = [.. Alike(59, 5, 25), new(5, 25)];
        var (found, drawn, uniform) = (Power(months, 0.35)!.Within(12), 0, SplitMix64.Uniform(9));
        for (var i = 0; i < 400; i++)
        {
            EventCount[] later =
                [.. Enumerable.Range(0, 12).Select(_ => new EventCount(Enumerable.Range(0, 25).Count(_ => uniform() < 0.35), 25))];
            if (MonthlyTest.Run([.. months, .. later], 24).Signals.Any(signal => signal.Month >= 60 && signal.ForTheWorse))
                drawn++;
        }
        // The continuations also have levels drawn round the median, months that vary and odd ones.
        Assert.Equal(drawn / 400.0, found, 0.08);
    }

    [Fact]
    public void Impossible_input_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Power([.. Alike(36, 4, 20)], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() =>
            MonthlyTestPower.Simulate([.. Alike(36, 4, 20)], 24, 0.3, new(SplitMix64.Uniform(1), 0)));
    }
}
