using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Edges of run charts that mutation testing found untested.</summary>
public class RunChartEdgeTests
{
    private static Series Of(long eligible, params int[] met) => new(2024, 1, [.. met.Select(each => new Count(each, eligible, 0))]);

    private static int[] ByTurns(int months) => [.. Enumerable.Range(0, months).Select(i => i % 2 == 0 ? 8 : 12)];

    [Fact]
    public void A_fair_coin_holds_inside_the_baseline_with_few_ties_and_cases_within_twofold()
    {
        RunChart Chart(Series series, int baseline = 99) =>
            RunCharts.Analyse(series, new() { BaselineMonths = baseline, Span = PointSpan.Month });
        Assert.True(RunCharts.FairCoinHolds(Chart(Of(20, ByTurns(12)))));
        Assert.False(RunCharts.FairCoinHolds(Chart(Of(20, ByTurns(12)), 11)));
        // Three of twelve points on the median are a quarter, four are more.
        Assert.True(RunCharts.FairCoinHolds(Chart(Of(20, 10, 10, 10, 8, 8, 8, 8, 8, 12, 12, 12, 12))));
        Assert.False(RunCharts.FairCoinHolds(Chart(Of(20, 10, 10, 10, 10, 8, 8, 8, 8, 12, 12, 12, 12))));
        // The fullest month may have twice the cases of the emptiest that has any, not more.
        Series Sized(long most) =>
            new(2024, 1, [.. ByTurns(12).Select(met => new Count(met, 20, 0)), new Count(most / 2, most, 0), default]);
        Assert.True(RunCharts.FairCoinHolds(Chart(Sized(40))));
        Assert.False(RunCharts.FairCoinHolds(Chart(Sized(41))));
        Assert.True(RunCharts.FairCoinHolds(Chart(new(2024, 1, [default, default]))));
    }

    [Fact]
    public void A_chance_is_simulated_only_where_a_fair_coin_does_not_hold()
    {
        RunChartOptions options = new() { BaselineMonths = 99, Uniform = () => 0.5, Replicates = 3 };
        Assert.Equal(ChanceMethod.FairCoin, RunCharts.Analyse(Of(20, ByTurns(12)), options).ChanceMethod);
        Assert.Equal(ChanceMethod.Simulated, RunCharts.Analyse(Of(20, ByTurns(12)), options with { BaselineMonths = 6 }).ChanceMethod);
    }

    [Fact]
    public void A_baseline_ends_with_the_series_and_without_one_nothing_lies_on_the_median()
    {
        Assert.Equal((3, 9), RunCharts.Analyse(Of(20, ByTurns(12)), new() { BaselineFrom = 3, BaselineMonths = 99 }).Baseline);
        Assert.Equal(0, RunCharts.Analyse(Of(20, ByTurns(12)), new() { BaselineFrom = 12 }).OnMedian);
        Assert.Equal(12, RunCharts.Analyse(Of(20, [.. Enumerable.Repeat(7, 12)])).OnMedian);
    }

    [Fact]
    public void Quarters_of_enough_cases_are_still_not_tested_where_months_have_too_few()
    {
        // Five cases a month are fifteen a quarter.
        Series series = new(2024, 1, [.. Enumerable.Range(0, 36).Select(i => new Count(1 + (i / 3 % 3), 5, 0))]);
        var quarters = RunCharts.Analyse(series, new() { BaselineMonths = 36 });
        Assert.Equal((PointSpan.Quarter, Untested.FewCases), (quarters.Span, quarters.Untested));
        Assert.NotEqual(Untested.FewCases, RunCharts.Analyse(series, new() { BaselineMonths = 36, Span = PointSpan.Quarter }).Untested);
        // Ten cases at the median month are enough for a span that was asked for, too.
        Assert.Equal(Untested.No, RunCharts.Analyse(Of(10, [.. ByTurns(12).Select(met => met - 5)]),
            new() { BaselineMonths = 12, Span = PointSpan.Month }).Untested);
    }

    [Fact]
    public void Each_phase_keeps_the_reason_why_it_is_not_tested()
    {
        Series few = new(2024, 1, [.. Enumerable.Range(0, 36).Select(i => i is >= 18 and < 24 ? default : new Count(1 + (i % 3), 5, 0))]);
        Assert.Equal([Untested.FewCases, Untested.NoBaseline, Untested.FewCases],
            RunChartPhases.Analyse(few, [18, 24], new() { BaselineMonths = 6 }).Select(phase => phase.Untested));
        Assert.DoesNotContain(Untested.FewCases,
            RunChartPhases.Analyse(few, [18, 24], new() { BaselineMonths = 6, Span = PointSpan.Quarter }).Select(phase => phase.Untested));
        Assert.DoesNotContain(Untested.FewCases, RunChartPhases.Analyse(Of(20, ByTurns(24)), [12]).Select(phase => phase.Untested));
        // Where the first baseline begins is the department's choice; a later phase begins with its own first month.
        Assert.Equal([(2, 10), (12, 12)], RunChartPhases.Analyse(Of(20, ByTurns(24)), [12], new() { BaselineFrom = 2 })
            .Select(phase => phase.Baseline));
    }

    [Fact]
    public void What_is_no_series_and_no_order_is_refused()
    {
        var series = Of(20, ByTurns(6));
        Assert.Throws<ArgumentNullException>("series", () => RunCharts.Analyse(null!));
        Assert.Throws<ArgumentNullException>("chart", () => RunCharts.FairCoinHolds(null!));
        Assert.Throws<ArgumentNullException>("series", () => RunChartPhases.Analyse(null!, []));
        Assert.Throws<ArgumentNullException>("starts", () => RunChartPhases.Analyse(series, null!));
        Assert.Throws<ArgumentOutOfRangeException>("starts", () => RunChartPhases.Analyse(series, [3, 3]));
        Assert.Throws<ArgumentOutOfRangeException>("starts", () => RunChartPhases.Analyse(series, [4, 2]));
        Assert.Throws<ArgumentOutOfRangeException>("options", () => RunCharts.Analyse(series, new() { Replicates = 0 }));
        Assert.Throws<ArgumentOutOfRangeException>("series", () => RunCharts.Analyse(series with { Month = 0 }));
        Assert.Throws<ArgumentOutOfRangeException>("series", () => RunCharts.Analyse(series with { Month = 13 }));
        Assert.Equal((2, 2.5), (Medians.Find([3, 1, 2])!.Value, Medians.Find([4, 1, 3, 2])!.Value));
    }

    [Fact]
    public void Months_of_hundreds_of_cases_are_weighed_by_the_same_formula_as_small_ones()
    {
        // With a known rate of 0.25 and one odds ratio r, the evidence after one report is ½ (head start + 1) Σ r^x / (1 − p + rp)^n over r
        // and 1/r.
        ChangeOddsOptions options =
            new() { OddsRatios = [1.8], WorseWeight = 0.5, HeadStart = 3, Variations = [1e-9], VariationWeights = [1], GridPoints = 1 };
        foreach (var (bad, cases) in new[] { (7, 20), (120, 400), (256, 900), (257, 900), (420, 1_500) })
        {
            var reading = ChangeOdds.Read([.. Enumerable.Repeat(new Count(25_000_000, 100_000_000, 0), 12)],
                [new(bad, cases, 0)], Better.Down, options);
            double[] logs = [.. new[] { 1.8, 1 / 1.8 }.Select(r => (bad * Math.Log(r)) - (cases * Math.Log(0.75 + (0.25 * r))))];
            Assert.Equal(Math.Log(2 * logs.Sum(Math.Exp)), reading.Months[0].LogOdds!.Value, 1e-3);
        }
    }
}
