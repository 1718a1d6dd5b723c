using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>What holds for every series, on many drawn ones.</summary>
public class MonthlyLawTests
{
    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 12)];

    internal static ImmutableArray<EventCount> Draw(int seed, int months, int volume)
    {
        var uniform = SplitMix64.Uniform((ulong)seed);
        var (rate, drawn) = (0.05 + (0.3 * uniform()), ImmutableArray.CreateBuilder<EventCount>());
        for (var month = 0; month < months; month++)
        {
            if (uniform() < 0.04)
                rate = 0.03 + (0.4 * uniform());
            var cases = uniform() < 0.05 ? 0 : volume / 2 + (int)(uniform() * volume);
            drawn.Add(new(Enumerable.Range(0, cases).Count(_ => uniform() < rate), cases));
        }
        return drawn.ToImmutable();
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Chances_are_chances_and_levels_lie_within_their_ranges(int seed)
    {
        var result = MonthlyTest.Run(Draw(seed, 60, 4 + (5 * seed)), 24);
        Assert.Equal((36, 60), (result.Reports.Length, result.Levels.Length));
        Assert.All(result.Reports, report =>
        {
            Assert.True(report.ChanceWorse is > 0 and < 1 && report.ChanceBetter is > 0 and < 1);
            Assert.True(report.ChanceWorse + report.ChanceBetter < 1);
            Assert.Equal(report.ChanceWorse, 1 / (1 + Math.Exp(-report.LogOddsWorse)), 1e-12);
            Assert.Equal(report.ChanceBetter, 1 / (1 + Math.Exp(-report.LogOddsBetter)), 1e-12);
        });
        Assert.All(result.Levels, level =>
        {
            Assert.InRange(level.Median, level.Likely80.Lower, level.Likely80.Upper);
            Assert.True(level.ChanceOfRise is >= 0 and <= 1 && level.ChanceOfFall is >= 0 and <= 1);
        });
        Assert.Equal((0.0, 0.0), (result.Levels[0].ChanceOfRise, result.Levels[0].ChanceOfFall));
        var now = result.Current!;
        Assert.True(now.Likely95.Lower < now.Likely80.Lower && now.Likely80.Upper < now.Likely95.Upper);
        // The last month has no later one: smoothed and filtered are the same.
        Assert.Equal(now.Median, result.Levels[^1].Median, 1e-12);
        Assert.Equal(now.Mean, result.Levels[^1].Mean, 1e-12);
        Assert.InRange(result.Variation!.Value, 1e-5, 0.08);
        foreach (var than in (LevelComparison[])[result.ThanHistory!.Value, result.ThanYearAgo!.Value])
            Assert.InRange(than.ChanceWorse + than.ChanceBetter, 0, 1);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void An_empty_month_at_the_end_adds_only_the_chance_of_a_change_before_it(int seed)
    {
        var months = Draw(seed, 40, 12);
        var (with, without) = (MonthlyTest.Run([.. months, default], 24), MonthlyTest.Run(months, 24));
        Assert.Equal(without.Reports, with.Reports.Take(16));
        var anchorMoved = without.Signals.Any(signal => signal.Month == 39);
        var (before, after) = (without.Reports[^1], with.Reports[^1]);
        var (worse, better) = anchorMoved ? (0.0, 0.0) : (before.ChanceWorse, before.ChanceBetter);
        // The last change becomes one for the worse with 2/3 of 1/48, save for what jumps off the grid.
        Assert.Equal((worse * 47 / 48) + (2.0 / 3 / 48), after.ChanceWorse, 1e-4);
        Assert.Equal((better * 47 / 48) + (1.0 / 3 / 48), after.ChanceBetter, 2e-3);
        Assert.Equal(without.Variation!.Value, with.Variation!.Value, 1e-4);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void An_event_more_in_a_month_that_is_not_odd_raises_the_chance_of_worse_and_the_level(int seed)
    {
        var months = Draw(seed, 40, 12);
        var (cases, level) = (months[^1].Cases, MonthlyTest.Run(months, 24).Levels[38].Median);
        var results = Enumerable.Range(0, cases + 1)
            .Select(events => MonthlyTest.Run(months.SetItem(39, new(events, cases)), 24)).ToArray();
        // From half to 1.7 times of what the level lets happen.
        for (var i = (int)Math.Ceiling(level * cases / 2); i < 1.7 * level * cases; i++)
        {
            Assert.True(results[i + 1].Reports[^1].ChanceWorse > results[i].Reports[^1].ChanceWorse);
            Assert.True(results[i + 1].Reports[^1].ChanceBetter < results[i].Reports[^1].ChanceBetter);
            Assert.True(results[i + 1].Current!.Mean > results[i].Current!.Mean);
        }
    }

    [Fact]
    public void A_month_far_off_the_level_is_taken_for_an_odd_one()
    {
        // So the chance does not rise for ever: 12 of 12 says less of the level than 9 of 12.
        double Worse(int events) => MonthlyTest.Run([.. MonthlyTestTests.Alike(30, 3, 12), new(events, 12)], 24).Reports[^1].ChanceWorse;
        Assert.True(Worse(7) > Worse(3));
        Assert.True(Worse(12) < Worse(9));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void With_one_chance_for_all_cases_the_level_moves_as_without_case_mix(int seed)
    {
        var months = Draw(seed, 48, 12);
        // Log odds of −1.6: shifts from −3 to 3 are levels from −4.6 to 1.4, the grid of counts alone.
        var chance = 1 / (1 + Math.Exp(1.6));
        ImmutableArray<double>[] expected = [.. months.Select(month => Enumerable.Repeat(chance, month.Cases).ToImmutableArray())];
        var (alone, mixed) = (MonthlyTest.Run(months, 24), MonthlyTest.Run(months, 24, null, expected));
        Assert.Equal(alone.Limits, mixed.Limits);
        foreach (var (one, other) in alone.Reports.Zip(mixed.Reports))
        {
            Assert.Equal(one.ChanceWorse, other.ChanceWorse, 1e-9);
            Assert.Equal(one.ChanceBetter, other.ChanceBetter, 1e-9);
            Assert.Equal(one.Expected, other.Expected, 1e-9);
        }
        Assert.Equal(alone.Signals.Select(signal => (signal.Month, signal.Start.From, signal.Leg)),
            mixed.Signals.Select(signal => (signal.Month, signal.Start.From, signal.Leg)));
        Assert.Equal(alone.Current!.Median, mixed.Current!.Median, 1e-9);
        Assert.All(alone.Levels.Zip(mixed.Levels), pair => Assert.Equal(pair.First.Likely80.Upper, pair.Second.Likely80.Upper, 1e-9));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Events_and_non_events_turned_round_turn_worse_and_better_round(int seed)
    {
        // With chances of one half the grid of shifts is the same from both ends; half of the jumps go up.
        var months = Draw(seed, 48, 12);
        ImmutableArray<double>[] expected = [.. months.Select(month => Enumerable.Repeat(0.5, month.Cases).ToImmutableArray())];
        ImmutableArray<EventCount> turned = [.. months.Select(month => new EventCount(month.Cases - month.Events, month.Cases))];
        var options = MonthlyTestOptions.FilterAlone with { WorseShare = 0.5 };
        var (one, other) = (MonthlyTest.Run(months, 24, options, expected), MonthlyTest.Run(turned, 24, options, expected));
        // The limits are not: they come from the rate. Until a first signal nothing depends on them.
        var until = one.Signals.Concat(other.Signals).Select(signal => signal.Month - 24).DefaultIfEmpty(23).Min();
        Assert.All(one.Reports.Zip(other.Reports).Take(until + 1), pair =>
        {
            Assert.Equal(pair.First.ChanceWorse, pair.Second.ChanceBetter, 1e-10);
            Assert.Equal(pair.First.ChanceBetter, pair.Second.ChanceWorse, 1e-10);
        });
        Assert.All(one.Levels.Zip(other.Levels), pair =>
        {
            Assert.Equal(pair.First.Median, 1 - pair.Second.Median, 1e-9);
            Assert.Equal(pair.First.ChanceOfRise, pair.Second.ChanceOfFall, 1e-10);
        });
        Assert.Equal(one.ThanYearAgo!.Value.ChanceWorse, other.ThanYearAgo!.Value.ChanceBetter, 1e-10);
        Assert.Equal(one.ThanHistory!.Value.ChanceBetter, other.ThanHistory!.Value.ChanceWorse, 1e-10);
    }

    [Fact]
    public void A_harder_case_mix_is_no_change_and_worse_care_behind_an_easier_one_is_found()
    {
        // The odds of hard cases are nine times those of easy ones: half are hard in the history.
        double easy = 0.05, hard = 9 * 0.05 / (0.95 + (9 * 0.05));
        ImmutableArray<double> Month(int hardOf40) => [.. Enumerable.Range(0, 40).Select(i => i < hardOf40 ? hard : easy)];
        ImmutableArray<double>[] Mix(int later) => [.. Enumerable.Range(0, 42).Select(month => Month(month < 24 ? 20 : later))];
        // As many events as the chances say: 7.4 of 40 with half hard, 11.8 with 36 hard, 4.4 with 9 hard.
        ImmutableArray<EventCount> Events(int later) =>
            [.. Enumerable.Range(0, 42).Select(month => new EventCount(month < 24 ? 7 : later, 40))];
        Assert.NotEmpty(MonthlyTest.Run(Events(12), 24).Signals);
        Assert.Empty(MonthlyTest.Run(Events(12), 24, null, Mix(36)).Signals);
        Assert.Empty(MonthlyTest.Run(Events(8), 24).Signals);
        var signal = Assert.Single(MonthlyTest.Run(Events(8), 24, null, Mix(9)).Signals);
        Assert.True(signal.ForTheWorse);
        Assert.InRange(24, signal.Start.From, signal.Start.To);
    }

    [Fact]
    public void Order_of_a_months_cases_does_not_matter()
    {
        var months = Draw(3, 40, 12);
        ImmutableArray<double>[] expected =
            [.. months.Select(month => Enumerable.Range(1, month.Cases).Select(i => 0.4 * i / month.Cases).ToImmutableArray())];
        Assert.Equal(MonthlyTest.Run(months, 24, null, expected).Reports,
            MonthlyTest.Run(months, 24, null, [.. expected.Select(month => month.Reverse().ToImmutableArray())]).Reports);
    }

    [Theory]
    [InlineData(0, 40)]
    [InlineData(40, 40)]
    [InlineData(500, 10_000)]
    [InlineData(150, 1_000)]
    public void Extreme_and_huge_counts_stay_numbers(int events, int cases)
    {
        var result = MonthlyTest.Run([.. MonthlyTestTests.Alike(14, events, cases), new(cases - events, cases), default], 12);
        Assert.All(result.Reports, report => Assert.True(double.IsFinite(report.LogOddsWorse) && double.IsFinite(report.LogOddsBetter)));
        Assert.All(result.Levels, level => Assert.True(double.IsFinite(level.Mean + level.Likely80.Lower + level.ChanceOfRise)));
    }
}
