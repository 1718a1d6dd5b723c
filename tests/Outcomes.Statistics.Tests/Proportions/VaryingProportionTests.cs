using Outcomes.Statistics;

namespace Outcomes.Tests;

public class VaryingProportionTests
{
    [Fact]
    public void Dispersion_and_interval_are_those_worked_by_hand()
    {
        // 2, 8, 1 and 9 of 20: X = 20 of 80, p̃ = 20.5/81 = 0.253086; Q = Σ (x − 5.06173)²/(20 · 0.253086 · 0.746914) = 13.2467; 3 degrees
        // of freedom. t = 3.182446 (tables). X/φ = 4.5294, N/φ = 18.1177.
        var found = VaryingProportion.Estimate([new(2, 20), new(8, 20), new(1, 20), new(9, 20)])!;
        double p = 20.5 / 81, q = new[] { 2.0, 8, 1, 9 }.Sum(x => Math.Pow(x - (20 * p), 2) / (20 * p * (1 - p)));
        Assert.Equal((q / 3, 3), (found.Dispersion.Ratio!.Value, found.Dispersion.Degrees),
            (a, b) => Math.Abs(a.Item1 - b.Item1) < 1e-12 && a.Item2 == b.Item2);
        Assert.True(found.Dispersion.IsAboveChance);
        double t = 3.182446305284263, phi = q / 3, x0 = 20 / phi, n0 = 80 / phi;
        var half = t * Math.Sqrt((x0 * (n0 - x0) / n0) + (t * t / 4)) / (n0 + (t * t));
        Assert.Equal(((x0 + (t * t / 2)) / (n0 + (t * t))) - half, found.Within.Lower, 1e-9);
        Assert.Equal(((x0 + (t * t / 2)) / (n0 + (t * t))) + half, found.Within.Upper, 1e-9);
        Assert.Equal(Wilson.Interval(20, 80), found.Plain);
    }

    [Fact]
    public void It_is_the_plain_interval_where_months_do_not_vary_more_than_chance_makes_them()
    {
        var found = VaryingProportion.Estimate([.. Enumerable.Repeat(new EventCount(3, 15), 12)])!;
        Assert.Equal((1.0, false), (found.Dispersion.Used, found.Dispersion.IsAboveChance));
        Assert.Equal(found.Plain, found.Within);
    }

    [Fact]
    public void It_holds_the_plain_interval_where_they_do()
    {
        var found = VaryingProportion.Estimate([.. Enumerable.Range(0, 12).Select(i => new EventCount(i % 2 == 0 ? 0 : 6, 15))])!;
        Assert.True(found.Dispersion.IsAboveChance);
        Assert.True(found.Within.Lower < found.Plain.Lower && found.Plain.Upper < found.Within.Upper);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(10)]
    public void None_or_all_have_an_end_of_exactly_0_or_1(int events)
    {
        var found = VaryingProportion.Estimate([.. Enumerable.Repeat(new EventCount(events, 10), 12)])!;
        Assert.Equal(events / 10.0, events == 0 ? found.Within.Lower : found.Within.Upper);
        Assert.InRange(found.Within.Upper - found.Within.Lower, 0.01, 0.1);
    }

    [Fact]
    public void One_month_shows_no_variation_and_none_no_interval()
    {
        var found = VaryingProportion.Estimate([default, new(3, 15)])!;
        Assert.Null(found.Dispersion.Ratio);
        Assert.Equal(found.Plain, found.Within);
        Assert.Null(VaryingProportion.Estimate([default]));
        Assert.Throws<ArgumentOutOfRangeException>(() => VaryingProportion.Estimate([new(3, 2)]));
    }

    [Fact]
    public void Dispersion_of_months_that_vary_is_the_design_effect()
    {
        // Kish L. Survey Sampling, 1965 (from memory): 1 + (n − 1) ρ, here 1 + 24 · 0.05 = 2.2.
        var uniform = SplitMix64.Uniform(4);
        double sum = 0;
        for (var i = 0; i < 400; i++)
        {
            EventCount[] months = [.. Enumerable.Range(0, 12).Select(_ =>
            {
                var events = 0;
                for (var j = 0; j < 25; j++)
                    if (uniform() * (19 + j) < (0.2 * 19) + events)
                        events++;
                return new EventCount(events, 25);
            })];
            sum += MonthDispersion.Estimate(months).Ratio!.Value;
        }
        Assert.Equal(2.2, sum / 400, 0.15);
    }
}
