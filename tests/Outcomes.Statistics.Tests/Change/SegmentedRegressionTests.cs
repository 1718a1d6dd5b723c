using System.Collections.Immutable;
using CsCheck;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class SegmentedRegressionTests
{
    private static readonly Gen<ImmutableArray<Count>> AnyCounts = Gen
        .Select(Gen.Long[10, 60], Gen.Double[0.2, 0.8], (eligible, share) => new Count((long)Math.Round(share * eligible), eligible, 0))
        .Array[16, 30]
        .Select(counts => ImmutableArray.Create(counts));

    [Fact]
    public void Finds_the_level_and_trend_that_exact_log_odds_were_made_with()
    {
        // Counts so large that rounding them moves nothing: ln odds = −0.5 + 0.02 t + 0.4 after + 0.03 (t − 12) after.
        ImmutableArray<Count> counts = [.. Enumerable.Range(0, 24).Select(t =>
        {
            var odds = Math.Exp(-0.5 + (0.02 * t) + (t >= 12 ? 0.4 + (0.03 * (t - 12)) : 0));
            return new Count((long)Math.Round(100_000_000 * odds / (1 + odds)), 100_000_000, 0);
        })];
        var result = SegmentedRegression.Fit(new(2024, 1, counts), 12);
        Assert.Equal(Math.Exp(0.02), result.TrendBefore!.Value, 1e-7);
        Assert.Equal(Math.Exp(0.4), result.Level!.Value, 1e-7);
        Assert.Equal(Math.Exp(0.03), result.Trend!.Value, 1e-7);
        Assert.Equal(Math.Exp(0.4 + (0.03 * 11)), result.AtEnd!.Value, 1e-7);
        Assert.Empty(result.Doubts);
    }

    [Fact]
    public void Counting_the_opposite_turns_every_ratio_over() => AnyCounts.Sample(counts =>
    {
        var one = SegmentedRegression.Fit(new(2024, 1, counts), 8);
        var other = SegmentedRegression.Fit(new(2024, 1, [.. counts.Select(count => count with { Met = count.Eligible - count.Met })]), 8);
        Assert.Equal(1, one.Level!.Value * other.Level!.Value, 1e-8);
        Assert.Equal(1, one.Trend!.Lower * other.Trend!.Upper, 1e-8);
        Assert.Equal(1, one.FittedAtEnd!.Value + other.FittedAtEnd!.Value, 1e-8);
    });

    [Fact]
    public void Months_without_cases_at_the_end_leave_the_coefficients_alone() => AnyCounts.Sample(counts =>
    {
        var one = SegmentedRegression.Fit(new(2024, 1, counts), 8);
        var other = SegmentedRegression.Fit(new(2024, 1, [.. counts, default, default]), 8);
        Assert.Equal(one.Coefficients, other.Coefficients);
        Assert.Equal(one.Errors, other.Errors);
    });

    [Fact]
    public void More_variation_than_chance_widens_and_less_does_not_narrow()
    {
        Series Made(int swing) =>
            new(2024, 1, [.. Enumerable.Range(0, 24).Select(t => new Count(50 + (t % 2 == 0 ? swing : -swing), 100, 0))]);
        var (steady, wild) = (SegmentedRegression.Fit(Made(0), 12), SegmentedRegression.Fit(Made(25), 12));
        Assert.True(steady.Dispersion < 1e-9 && wild.Dispersion > 20);
        Assert.True(wild.Errors[2] > 4 * steady.Errors[2]);
        // Without any variation the error is still that of the counts: 25 of variance a month, 4 parameters.
        Assert.InRange(steady.Errors[2], 0.1, 0.5);
    }

    [Fact]
    public void What_has_no_answer_says_so_and_keeps_the_difference()
    {
        ImmutableArray<Count> counts = [.. Enumerable.Range(0, 24).Select(t => new Count(t < 12 ? 10 : 20, 20, 0))];
        var result = SegmentedRegression.Fit(new(2024, 1, counts), 12);
        Assert.Equal([SegmentedDoubt.FewEvents, SegmentedDoubt.NoAnswer], result.Doubts);
        Assert.Null(result.Level);
        Assert.Equal(0.5, result.Difference!.Value, 1e-12);
        Assert.Equal([SegmentedDoubt.FewMonths, SegmentedDoubt.FewEvents, SegmentedDoubt.NoAnswer],
            SegmentedRegression.Fit(new(2024, 1, [new(1, 2, 0), new(1, 2, 0)]), 1).Doubts);
    }

    [Fact]
    public void A_change_outside_the_series_is_refused()
    {
        Series series = new(2024, 1, [new(1, 2, 0), new(1, 2, 0)]);
        Assert.Throws<ArgumentOutOfRangeException>("change", () => SegmentedRegression.Fit(series, 0));
        Assert.Throws<ArgumentOutOfRangeException>("change", () => SegmentedRegression.Fit(series, 2));
    }
}
