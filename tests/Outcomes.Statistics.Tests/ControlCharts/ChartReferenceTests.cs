using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>
/// A thousand random inputs each against R 4.2.2 and its package metafor 3.8.1: tests/fixtures/reference/charts.csv, made by
/// tests/reference/charts.R.
/// </summary>
public class ChartReferenceTests
{
    private static readonly ILookup<string, string[]> Rows = File
        .ReadLines(Path.Combine(AppContext.BaseDirectory, "fixtures", "reference", "charts.csv"))
        .Skip(1)
        .Select(line => line.Split(','))
        .ToLookup(cells => cells[0]);

    [Fact]
    public void P_charts_have_the_limits_of_R() => Compare("p", inputs =>
    {
        ImmutableArray<Count> counts = [.. inputs[0].Select((met, i) => new Count((long)met, (long)inputs[1][i], 0))];
        return Three(method => AttributeCharts.Proportions(counts, new(0, (int)inputs[2][0]), method));
    });

    [Fact]
    public void U_charts_have_the_limits_of_R() => Compare("u", inputs =>
        Three(method => AttributeCharts.Rates([.. inputs[0].Select(count => (long)count)], [.. inputs[1]],
            new(0, (int)inputs[2][0]), method)));

    [Fact]
    public void Individuals_charts_have_the_limits_of_R() => Compare("individuals", inputs =>
    {
        var (values, ranges) = IndividualsCharts.Analyse([.. inputs[0].Select(value => (double?)value)], new(0, (int)inputs[1][0]));
        return [values.Centre!.Value, ranges.Centre!.Value, values.Points[^1].Lower!.Value, values.Points[^1].Upper!.Value,
            ranges.Points[^1].Upper!.Value];
    });

    [Fact]
    public void G_charts_have_the_limits_of_R() => Compare("g", inputs =>
    {
        ImmutableArray<long> cases = [.. inputs[0].Select(gap => (long)gap)];
        ChartBaseline baseline = new(0, (int)inputs[1][0]);
        var exact = RareEventChart.Cases(cases, null, baseline);
        var normal = RareEventChart.Cases(cases, null, baseline, LimitMethod.Normal);
        return [exact.Centre!.Value, .. Last(exact), .. Last(normal)];
    });

    [Fact]
    public void T_charts_have_the_limits_of_R() => Compare("t", inputs =>
    {
        ImmutableArray<double> times = [.. inputs[0]];
        ChartBaseline baseline = new(0, (int)inputs[1][0]);
        var (exact, nelson) = (RareEventChart.Times(times, null, baseline), RareEventChart.TransformedTimes(times, null, baseline));
        return [exact.Centre!.Value, .. Last(exact), nelson.Centre!.Value, .. Last(nelson)];
    });

    [Fact]
    public void Cumulative_ratios_have_the_interval_of_R() => Compare("cumulative", inputs =>
    {
        var point = CumulativePoisson.Accumulate([.. inputs[0].Select(count => (long)count)], [.. inputs[1]])[^1];
        return [point.Ratio!.Value, point.Lower!.Value, point.Upper!.Value];
    });

    [Fact]
    public void Funnel_limits_are_those_of_R() => Compare("funnel", inputs =>
    {
        var (target, n) = (inputs[0][0], (long)inputs[1][0]);
        var limits = Funnels.Analyse([new("A", new(0, n, 0))], target).Points[0].Limits!;
        return
        [
            limits.Within95.Lower, limits.Within95.Upper, limits.Within998.Lower, limits.Within998.Upper,
            .. new[] { 0.025, 0.975, 0.001, 0.999 }.Select(p => Funnels.Interpolated(target, n, p)),
        ];
    });

    [Fact]
    public void Overdispersion_is_that_of_R() => Compare("dispersion", inputs =>
    {
        var dispersion = Overdispersion.Estimate(inputs[0], inputs[1]);
        return [dispersion.Lower, dispersion.Upper, dispersion.Phi, dispersion.TauSquared];
    });

    [Fact]
    public void Shrunken_estimates_are_those_of_R() => Compare("beta_binomial", inputs =>
    {
        var shrunk = BetaBinomial.Shrink([.. inputs[0].Select((met, i) => new GroupCount($"{i}", new((long)met, (long)inputs[1][i], 0)))]);
        var first = shrunk.Groups[0];
        return [shrunk.Prior.Mean, shrunk.Prior.Spread, first.Value, first.Within!.Value.Lower, first.Within.Value.Upper];
    });

    [Theory]
    [InlineData("pool_fe", BetweenVariance.None)]
    [InlineData("pool_dl", BetweenVariance.DerSimonianLaird)]
    [InlineData("pool_pm", BetweenVariance.PauleMandel)]
    [InlineData("pool_reml", BetweenVariance.Reml)]
    public void Pooled_effects_are_those_of_metafor(string statistic, BetweenVariance between) => Compare(statistic, inputs =>
    {
        var pooled = RandomEffects.Pool([.. inputs[0].Select((value, i) => new Effect(value, inputs[1][i]))], between);
        return
        [
            pooled.Value, pooled.Error, pooled.Within.Lower, pooled.Within.Upper, pooled.TauSquared, pooled.ISquared!.Value, pooled.Q,
            pooled.QChance!.Value, pooled.HartungKnapp!.Value.Lower, pooled.HartungKnapp.Value.Upper, .. pooled.Prediction is { } prediction
                ? new[] { prediction.Lower, prediction.Upper }
                : [],
        ];
    });

    [Fact]
    public void Logits_are_those_of_metafor() => Compare("logit", inputs =>
    {
        var logit = ProportionScale.Logit(new((long)inputs[0][0], (long)inputs[1][0], 0));
        return [logit.Value, logit.Variance];
    });

    [Fact]
    public void Segmented_regressions_are_those_of_R() => Compare("segmented", inputs =>
    {
        var result = SegmentedRegression.Fit(new(2024, 1, [.. inputs[0].Select((met, i) => new Count((long)met, (long)inputs[1][i], 0))]),
            (int)inputs[2][0]);
        return [.. result.Coefficients, .. result.Errors, result.Dispersion!.Value, result.Level!.Lower, result.Level.Upper,
            result.FittedAtEnd!.Value, result.ForetoldAtEnd!.Value];
    });

    private static double[] Three(Func<LimitMethod, ControlChart> make)
    {
        var laney = make(LimitMethod.Laney);
        return [laney.Centre!.Value, .. Last(make(LimitMethod.Exact)), .. Last(make(LimitMethod.Normal)), .. Last(laney),
            laney.Variation!.Value];
    }

    private static double[] Last(ControlChart chart) => [chart.Points[^1].Lower!.Value, chart.Points[^1].Upper!.Value];

    private static void Compare(string statistic, Func<double[][], double[]> compute)
    {
        var rows = Rows[statistic].ToArray();
        Assert.Equal(1000, rows.Length);
        var misses = new List<string>();
        foreach (var cells in rows)
        {
            var expected = Numbers(cells[2]);
            var actual = compute([.. cells[1].Split(';').Select(Numbers)]);
            Assert.Equal(expected.Length, actual.Length);
            for (var i = 0; i < expected.Length; i++)
                // Relative, and absolute for numbers that are 0 but for rounding.
                if (!(Math.Abs(actual[i] - expected[i]) <= 1e-9 * Math.Max(Math.Abs(expected[i]), 1e-6)))
                    misses.Add($"[{i}] {actual[i]:R} for {expected[i]:R} "
                        + $"({Math.Abs(actual[i] - expected[i]) / Math.Abs(expected[i]):E1}) at {cells[1]}");
        }
        Assert.True(misses.Count == 0, $"{statistic}: {misses.Count} misses\n{string.Join("\n", misses.Take(12))}");
    }

    private static double[] Numbers(string text) =>
        [.. text.Split(' ').Select(number => double.Parse(number, CultureInfo.InvariantCulture))];
}
