using Outcomes.Statistics;

namespace Outcomes.Tests;

public class LjungBoxTests
{
    // Luteinising hormone every ten minutes: Diggle PJ. Time Series: A Biostatistical Introduction, 1990; the data set lh of R.
    private static readonly double[] Hormone =
    [
        2.4, 2.4, 2.4, 2.2, 2.1, 1.5, 2.3, 2.3, 2.5, 2, 1.9, 1.7, 2.2, 1.8, 3.2, 3.2, 2.7, 2.2, 2.2, 1.9, 1.9, 1.8, 2.7, 3, 2.3, 2, 2, 2.9,
        2.9, 2.7, 2.7, 2.3, 2.6, 2.4, 1.8, 1.7, 1.5, 1.4, 2.1, 3.3, 3.5, 3.5, 3.1, 2.6, 2.1, 3.4, 3, 2.9,
    ];

    [Fact]
    public void It_is_that_of_R()
    {
        // R 4.2.2, Box.test(lh, lag = 5, type = "Ljung-Box").
        var test = LjungBox.Test(Hormone, 5)!;
        Assert.Equal(22.6731850021, test.Statistic, 1e-9);
        Assert.Equal(3.89744803916e-04, test.P, 1e-12);
    }

    [Fact]
    public void Residuals_all_alike_have_none_and_too_few_are_refused()
    {
        Assert.Null(LjungBox.Test([1, 1, 1, 1], 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => LjungBox.Test([1, 2], 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => LjungBox.Test([1, 2, 3], 0));
    }

    [Fact]
    public void Waves_beyond_the_trend_are_a_doubt_of_a_segmented_regression_and_chance_is_none()
    {
        // R 4.2.2, Box.test(residuals(glm(cbind(met, n - met) ~ t + a + d, family = binomial), type = "pearson"), lag = 4,
        // type = "Ljung-Box"), with a = t >= change and d = pmax(0, t - change).
        long[] waves = [10, 12, 15, 17, 18, 17, 15, 12, 10, 9, 10, 12, 15, 17, 18, 17, 15, 12, 10, 9, 10, 12, 15, 17];
        var wild = SegmentedRegression.Fit(new Series(2024, 1, [.. waves.Select(met => new Count(met, 25, 0))]), 12);
        Assert.Equal(27.1658638525, wild.Autocorrelation!.Statistic, 1e-6);
        Assert.Contains(SegmentedDoubt.Autocorrelated, wild.Doubts);

        (long Met, long Of)[] steady =
        [
            (14, 20), (15, 21), (12, 18), (16, 22), (13, 19), (15, 20), (14, 21), (13, 19), (16, 22), (14, 20), (17, 21), (18, 22),
            (16, 19), (19, 22), (17, 20), (18, 21), (19, 22), (18, 20), (17, 19), (19, 21),
        ];
        var calm = SegmentedRegression.Fit(new Series(2024, 1, [.. steady.Select(month => new Count(month.Met, month.Of, 0))]), 10);
        Assert.Equal((8.1260612583, 4), (Math.Round(calm.Autocorrelation!.Statistic, 10), calm.Autocorrelation.Lags));
        Assert.Equal(0.0870680409092, calm.Autocorrelation.P, 1e-9);
        Assert.DoesNotContain(SegmentedDoubt.Autocorrelated, calm.Doubts);
    }
}
