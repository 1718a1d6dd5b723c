using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ChangePowerTests
{
    private static readonly Count[] Year = [.. Enumerable.Range(0, 12).Select(i => new Count(20 + (i % 3), 25, 0))];

    private static ChangeDetection? OfHistory(
        double changed, ulong seed = 1, int months = 24, Count[]? history = null, Count[]? reports = null, int replicates = 1_000) =>
            ChangePower.OfHistory(
                history ?? Year, reports ?? [], changed, Better.Up, new(SplitMix64.Uniform(seed), months, replicates));

    [Fact]
    public void A_larger_change_is_noticed_sooner_and_chances_only_grow()
    {
        ChangeDetection small = OfHistory(0.75)!, large = OfHistory(0.60)!;
        Assert.True(large.Within(12) > small.Within(12) + 0.2);
        Assert.True(large.MonthsTo() < 8);
        Assert.All(small.Noticed.Zip(small.Noticed.Skip(1)), pair => Assert.True(pair.First <= pair.Second));
        Assert.True(small.MonthsTo(0.2) <= (small.MonthsTo(0.4) ?? int.MaxValue));
        Assert.Null(OfHistory(0.84)!.MonthsTo(0.9));
    }

    [Fact]
    public void The_same_seed_gives_the_same_chances_and_another_seed_nearly_the_same()
    {
        var one = OfHistory(0.65)!;
        Assert.Equal(one.Noticed, OfHistory(0.65)!.Noticed);
        var other = OfHistory(0.65, seed: 2)!;
        Assert.NotEqual(one.Noticed, other.Noticed);
        Assert.Equal(one.Within(6), other.Within(6), 5 * one.Error(6));
    }

    [Fact]
    public void It_counts_what_the_readings_of_such_futures_say()
    {
        // The same futures, drawn by the same rule, each read in full.
        var uniform = SplitMix64.Uniform(5);
        var signals = new int[6];
        for (var replicate = 0; replicate < 300; replicate++)
        {
            var reports = new List<Count>();
            for (var month = 0; month < 6; month++)
            {
                var eligible = Year[(int)(uniform() * 12)].Eligible;
                long bad = 0;
                for (var i = 0; i < eligible; i++)
                    bad += uniform() < 1 - 0.55 ? 1 : 0;
                reports.Add(new(eligible - bad, eligible, 0));
                if (ChangeOdds.Read(Year, reports, Better.Up).Change is not { } change)
                    continue;
                for (var later = change.Report; later < 6; later++)
                    signals[later]++;
                break;
            }
        }
        Assert.Equal(signals.Select(count => count / 300.0), OfHistory(0.55, seed: 5, months: 6, replicates: 300)!.Noticed);
        Assert.True(signals[5] > 100);
    }

    [Fact]
    public void What_has_been_reported_counts_and_the_horizon_ends_it()
    {
        Count[] hinting = [.. Enumerable.Repeat(new Count(17, 25, 0), 2)];
        Assert.True(OfHistory(0.65, reports: hinting)!.Within(3) > OfHistory(0.65)!.Within(3));
        Assert.Equal(4, OfHistory(0.65, reports: [.. Enumerable.Repeat(new Count(21, 25, 0), 32)])!.Noticed.Length);
        Assert.Null(OfHistory(0.65, reports: [.. Enumerable.Repeat(new Count(21, 25, 0), 36)]));
        Assert.Null(OfHistory(0.65, history: Year[..11]));
    }

    [Fact]
    public void A_plan_says_what_the_study_found()
    {
        // The study's cell with other seeds: docs/statistics/signals-study.csv.
        var plan = ChangePower.OfPlan(new(25, 0.85, 0.70, 12, 12, Better.Up), new(SplitMix64.Uniform(3), 12, 1_000));
        var cell = StudyFile.Find("noticed", 25, 12, "default", "85 > 70 % in month 13");
        Assert.Equal(cell.Value!.Value, plan.Within(12),
            4 * Math.Sqrt((plan.Error(12) * plan.Error(12)) + (cell.Error!.Value * cell.Error.Value)));
    }

    [Fact]
    public void A_plan_with_too_few_cases_notices_nothing() =>
        Assert.Equal(0, ChangePower.OfPlan(new(0.5, 0.85, 0.2, 12, 0, Better.Up), new(SplitMix64.Uniform(3), Replicates: 20)).Noticed[^1]);

    [Fact]
    public void Both_ways_of_coding_a_measure_have_the_same_chances() => Assert.Equal(
        ChangePower.OfPlan(new(10, 0.85, 0.60, 12, 3, Better.Up), new(SplitMix64.Uniform(3), Replicates: 200)).Noticed,
        ChangePower.OfPlan(new(10, 1 - 0.85, 1 - 0.60, 12, 3, Better.Down), new(SplitMix64.Uniform(3), Replicates: 200)).Noticed);

    [Fact]
    public void Poisson_counts_have_their_mean_and_variance()
    {
        var uniform = SplitMix64.Uniform(9);
        var draw = new PoissonDraw(7.5);
        double[] values = [.. Enumerable.Range(0, 40_000).Select(_ => (double)draw.Next(uniform()))];
        // Four standard errors: √(7.5/40000), and the variance's √((7.5 + 2·7.5²)/40000).
        Assert.Equal(7.5, values.Average(), 0.055);
        Assert.Equal(7.5, values.Select(value => (value - 7.5) * (value - 7.5)).Average(), 0.22);
        Assert.Equal(0, draw.Next(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new PoissonDraw(0));
    }
}
