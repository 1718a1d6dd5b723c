using Outcomes.Statistics;

namespace Outcomes.Tests;

public class LevelProportionTests
{
    private static readonly EventCount[] Varying = [new(2, 20), new(8, 20), new(1, 20), new(9, 20)];

    [Fact]
    public void The_correlation_of_all_cases_and_the_design_effect_of_the_level_are_those_worked_by_hand()
    {
        // All: φ = Q/3 as in VaryingProportionTests; each case has 19 others in its month: Σ 19 (1 − 20/80)/3 over four months is 19, so
        // ρ = (φ − 1)/19. The level has 5 cases each month: 1 + 4 ρ (Kish's design effect). t = 3.182446 with 3 degrees of
        // freedom (tables).
        var found = LevelProportion.Estimate([new(0, 5), new(3, 5), new(0, 5), new(2, 5)], Varying)!;
        var p = 20.5 / 81;
        var ratio = Varying.Sum(month => Math.Pow(month.Events - (20 * p), 2) / (20 * p * (1 - p))) / 3;
        var phi = 1 + (4 * (ratio - 1) / 19);
        Assert.Equal(phi, found.Dispersion.Ratio!.Value, 1e-12);
        Assert.Equal(3, found.Dispersion.Degrees);
        double t = 3.182446305284263, x = 5 / phi, n = 20 / phi;
        var half = t * Math.Sqrt((x * (n - x) / n) + (t * t / 4)) / (n + (t * t));
        Assert.Equal(((x + (t * t / 2)) / (n + (t * t))) - half, found.Within.Lower, 1e-9);
        Assert.Equal(((x + (t * t / 2)) / (n + (t * t))) + half, found.Within.Upper, 1e-9);
        Assert.Equal((Wilson.Interval(5, 20), new EventCount(5, 20), 0.25), (found.Plain, found.Count, found.Value));
    }

    [Fact]
    public void A_level_that_is_all_cases_has_their_interval() =>
        Assert.Equal(VaryingProportion.Estimate(Varying), LevelProportion.Estimate(Varying, Varying));

    [Fact]
    public void It_is_the_plain_interval_where_months_do_not_vary_or_the_level_has_one_case_a_month()
    {
        EventCount[] steady = [.. Enumerable.Repeat(new EventCount(3, 15), 12)];
        EventCount[] wild = [.. Enumerable.Range(0, 12).Select(month => new EventCount(month % 2 * 4, 4))];
        Assert.Equal(Wilson.Interval(24, 48), LevelProportion.Estimate(wild, steady)!.Within);
        var single = LevelProportion.Estimate([new(0, 1), new(1, 1), new(0, 1), default], Varying)!;
        Assert.Equal(single.Plain, single.Within);
        Assert.Equal(1, single.Dispersion.Used);
    }

    // Three months of twelve: by its own months the level would have two degrees of freedom (t = 4.3) and ends of 3 and 97 %.
    [Fact]
    public void A_level_in_few_months_takes_the_degrees_of_freedom_of_all_months()
    {
        EventCount[] level = [new(0, 6), new(5, 6), new(4, 6), .. new EventCount[9]];
        EventCount[] all = [.. level.Select((month, i) => month + new EventCount(3 + (i % 3 * 2), 20))];
        var (found, own) = (LevelProportion.Estimate(level, all)!, VaryingProportion.Estimate(level)!);
        Assert.Equal((11, 2), (found.Dispersion.Degrees, own.Dispersion.Degrees));
        Assert.True(found.Dispersion.IsAboveChance && own.Dispersion.IsAboveChance);
        Assert.InRange(found.Within.Upper - found.Within.Lower, found.Plain.Upper - found.Plain.Lower, 0.6);
        Assert.True(own.Within.Upper - own.Within.Lower > 0.9);
    }

    [Fact]
    public void Without_a_case_there_is_no_interval_and_other_months_are_refused()
    {
        Assert.Null(LevelProportion.Estimate(new EventCount[4], Varying));
        Assert.Throws<ArgumentException>(() => LevelProportion.Estimate([new(1, 2)], Varying));
        Assert.Throws<ArgumentOutOfRangeException>(() => LevelProportion.Estimate(Varying, [new(3, 2), default, default, default]));
        Assert.Throws<ArgumentOutOfRangeException>(() => LevelProportion.Estimate(Varying, Varying, 1));
    }
}
