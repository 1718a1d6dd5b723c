using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Change odds with the case mix inside.</summary>
public class MixedChangeOddsTests
{
    private static readonly double[] Alone = [0.15];

    [Theory]
    [MemberData(nameof(Fixtures))]
    public void Equals_the_definition_summed_over_every_start_of_a_change(string id)
    {
        var check = Check.Find("mixed_change_odds.json", id);
        long[] bad = [.. check.Inputs["bad"]!.AsArray().Select(node => node!.GetValue<long>())];
        ImmutableArray<double>[] expected = [.. check.Inputs["expected"]!.AsArray()
            .Select(month => month!.AsArray().Select(node => node!.GetValue<double>()).ToImmutableArray())];
        Count[] counts = [.. bad.Zip(expected, (x, cases) => new Count(x, cases.Length, 0))];
        var history = (int)check.Integer("history");
        var reading = ChangeOdds.Read(counts[..history], counts[history..], Better.Down, expected);
        double[] Expected(string name) => [.. check.Expected[name]!.AsArray().Select(node => node!.GetValue<double>())];
        Assert.Equal(counts.Length - history, reading.Months.Length);
        Assert.Equal(Expected("log_odds").Length, reading.Months.Length);
        for (var month = 0; month < reading.Months.Length; month++)
        {
            Assert.Equal(Expected("log_odds")[month], reading.Months[month].LogOdds!.Value, check.Tolerance);
            Assert.Equal(Expected("worse_share")[month], reading.Months[month].WorseShare!.Value, check.Tolerance);
            Assert.Equal(Expected("expected_events")[month], reading.Months[month].Expected!.Value, check.Tolerance);
        }
        Assert.Equal(check.Expected["variation"]!.GetValue<double>(), reading.Variation!.Value, check.Tolerance);
        Assert.Equal(check.Expected["limit"]!.GetValue<double>(), reading.Limit!.Value, check.Tolerance);
    }

    public static TheoryData<string> Fixtures => Check.Ids("mixed_change_odds.json");

    [Theory]
    [InlineData(0.03)]
    [InlineData(0.15)]
    [InlineData(0.6)]
    public void With_one_chance_for_all_cases_it_equals_the_unadjusted_statistic(double chance)
    {
        foreach (var better in new[] { Better.Up, Better.Down })
        {
            var (counts, _) = Draw(60, 12, seed: 3, mix: _ => Alone);
            counts[20] = default;
            ImmutableArray<double>[] expected =
                [.. counts.Select(count => Enumerable.Repeat(chance, (int)count.Eligible).ToImmutableArray())];
            var alone = ChangeOdds.Read(counts[..24], counts[24..], better);
            var mixed = ChangeOdds.Read(counts[..24], counts[24..], better, expected);
            Assert.Equal(alone.Limit, mixed.Limit);
            Assert.Equal(alone.State, mixed.State);
            Assert.Equal(alone.Variation!.Value, mixed.Variation!.Value, 1e-10);
            Assert.All(alone.Months.Zip(mixed.Months), pair =>
            {
                Assert.Equal(pair.First.LogOdds!.Value, pair.Second.LogOdds!.Value, 1e-10);
                Assert.Equal(pair.First.WorseShare!.Value, pair.Second.WorseShare!.Value, 1e-10);
            });
            Assert.All(alone.Months, month => Assert.Null(month.Expected));
            // The history's own rate, (bad + ½)/(cases + 1), for every case.
            var bad = better == Better.Up ? alone.History.Eligible - alone.History.Met : alone.History.Met;
            Assert.All(mixed.Months,
                month => Assert.Equal(month.Count.Eligible * ((bad + 0.5) / (alone.History.Eligible + 1)), month.Expected!.Value, 1e-9));
        }
    }

    [Fact]
    public void Neither_the_order_of_a_months_cases_nor_the_level_of_all_chances_matters()
    {
        var (counts, expected) = Draw(40, 15, seed: 5, mix: _ => [0.05, 0.15, 0.4]);
        var whole = ChangeOdds.Read(counts[..12], counts[12..], Better.Down, expected);
        var turned =
            ChangeOdds.Read(counts[..12], counts[12..], Better.Down, [.. expected.Select(month => month.Reverse().ToImmutableArray())]);
        Assert.Equal(whole.Months, turned.Months);
        // Odds of all cases times three: distances in log odds are the same.
        var raised = ChangeOdds.Read(counts[..12], counts[12..], Better.Down,
            [.. expected.Select(month => month.Select(p => 3 * p / (1 - p + (3 * p))).ToImmutableArray())]);
        Assert.All(whole.Months.Zip(raised.Months), pair =>
        {
            Assert.Equal(pair.First.LogOdds!.Value, pair.Second.LogOdds!.Value, 1e-9);
            Assert.Equal(pair.First.Expected!.Value, pair.Second.Expected!.Value, 1e-9);
        });
    }

    [Fact]
    public void A_report_hangs_on_its_own_month_and_those_before_it()
    {
        var (counts, expected) = Draw(40, 15, seed: 8, mix: month => month < 30 ? [0.05, 0.2] : [0.2, 0.5]);
        var whole = ChangeOdds.Read(counts[..12], counts[12..], Better.Down, expected);
        for (var months = 0; months <= counts.Length - 12; months += 3)
            Assert.Equal(whole.Months.Take(months),
                ChangeOdds.Read(counts[..12], counts[12..(12 + months)], Better.Down, expected[..(12 + months)]).Months);
    }

    [Fact]
    public void An_empty_month_adds_one_to_every_sum()
    {
        var (counts, expected) = Draw(12, 15, seed: 2, mix: _ => [0.05, 0.2, 0.3]);
        var reading = ChangeOdds.Read(counts, [default, default], Better.Down, [.. expected, [], []]);
        Assert.Equal([13.0, 14.0], reading.Months.Select(month => Math.Round(Math.Exp(month.LogOdds!.Value), 9)));
        Assert.All(reading.Months, month => Assert.Equal(0, month.Expected));
    }

    [Fact]
    public void A_harder_case_mix_is_no_change_and_worse_care_behind_an_easier_one_is_found()
    {
        // The odds of the hard cases are nine times those of the easy ones. Half of the cases are hard, then nine in ten; or half, then one
        // in ten, with odds three times as bad.
        double[] half = [0.05, 0.3214], hard = [0.3214, 0.3214, 0.3214, 0.3214, 0.3214, 0.3214, 0.3214, 0.3214, 0.3214, 0.05];
        double[] easy = [.. hard.Select(p => p < 0.1 ? 0.3214 : 0.05)];
        var (counts, expected) = Draw(36, 40, seed: 11, mix: month => month < 24 ? half : hard);
        Assert.Equal(ChangeState.ChangeSignal, ChangeOdds.Read(counts[..24], counts[24..], Better.Down).State);
        Assert.Equal(ChangeState.NoSignOfChange, ChangeOdds.Read(counts[..24], counts[24..], Better.Down, expected).State);

        (counts, expected) = Draw(36, 40, seed: 12, mix: month => month < 24 ? half : easy, worse: month => month < 24 ? 1 : 3);
        Assert.Equal(ChangeState.NoSignOfChange, ChangeOdds.Read(counts[..24], counts[24..], Better.Down).State);
        var change = ChangeOdds.Read(counts[..24], counts[24..], Better.Down, expected).Change;
        Assert.NotNull(change);
        Assert.True(change.ForTheWorse);
        Assert.InRange(0, change.Start.From, change.Start.To);
    }

    [Fact]
    public void Large_months_and_extreme_chances_stay_numbers()
    {
        ImmutableArray<double> chances = [.. Enumerable.Range(0, 900).Select(i => i % 3 == 0 ? 1e-6 : i % 3 == 1 ? 0.5 : 1 - 1e-6)];
        Count[] counts = [.. Enumerable.Range(0, 20).Select(month => new Count(month < 15 ? 450 : 30, 900, 0))];
        var reading = ChangeOdds.Read(counts[..12], counts[12..], Better.Down, [.. counts.Select(_ => chances)]);
        Assert.All(reading.Months, month => Assert.True(double.IsFinite(month.LogOdds!.Value) && month.WorseShare is >= 0 and <= 1));
        Assert.Equal(ChangeState.ChangeSignal, reading.State);
    }

    [Fact]
    public void Chances_that_do_not_fit_the_cases_are_refused()
    {
        var (counts, expected) = Draw(14, 15, seed: 1, mix: _ => Alone);
        ArgumentException Refused(IReadOnlyList<ImmutableArray<double>> wrong) =>
            Assert.Throws<ArgumentException>("expected", () => ChangeOdds.Read(counts[..12], counts[12..], Better.Down, wrong));
        Assert.Contains("14 months", Refused(expected[..13]).Message, StringComparison.Ordinal);
        Assert.Contains("every eligible case", Refused([.. expected[..13], expected[13].Add(0.1)]).Message, StringComparison.Ordinal);
        foreach (var wrong in new[] { 0, 1, -0.1, 1.1, double.NaN })
            Assert.Contains("above 0 and below 1", Refused([.. expected[..13], expected[13].SetItem(0, wrong)]).Message,
                StringComparison.Ordinal);
    }

    /// <summary>
    /// Months of so many cases on average, the chances of each month's cases in turn from its own mix, events drawn with odds so many times
    /// as high.
    /// </summary>
    private static (Count[] Counts, ImmutableArray<double>[] Expected) Draw(
        int months, int volume, ulong seed, Func<int, double[]> mix, Func<int, double>? worse = null)
    {
        var uniform = SplitMix64.Uniform(seed);
        var (counts, expected) = (new Count[months], new ImmutableArray<double>[months]);
        for (var month = 0; month < months; month++)
        {
            var chances = mix(month);
            expected[month] = [.. Enumerable.Range(0, volume + (int)(5 * uniform()) - 2).Select(i => chances[i % chances.Length])];
            var odds = worse?.Invoke(month) ?? 1;
            counts[month] = new(expected[month].Count(p => uniform() < odds * p / (1 - p + (odds * p))), expected[month].Length, 0);
        }
        return (counts, expected);
    }
}
