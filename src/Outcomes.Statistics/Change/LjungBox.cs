using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>A test of whether neighbouring residuals are alike.</summary>
/// <param name="Statistic">Q of Ljung and Box.</param>
/// <param name="Lags">Lags that it sums over.</param>
/// <param name="P">Chance of as large a Q where residuals are independent.</param>
public sealed record LjungBoxResult(double Statistic, int Lags, double P);

/// <summary>Are the residuals of a series independent of those before?</summary>
public static class LjungBox
{
    public const string Source = "Ljung GM, Box GEP. Biometrika 1978;65:297-303 (citation from memory)";

    /// <summary>
    /// Q = n (n + 2) Σ r²ₖ / (n − k) over lags k = 1 to h, rₖ the autocorrelation at lag k; χ² with h degrees of freedom where residuals
    /// are independent.
    /// </summary>
    /// <param name="residuals">In order of time.</param>
    /// <param name="lags">h, at least 1 and less than the number of residuals.</param>
    /// <returns>Null where all residuals are alike: there is nothing to correlate.</returns>
    /// <remarks>
    /// The residuals of a fitted trend are a little alike by themselves, so that the chance is approximate. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Too few residuals for the lags.</exception>
    public static LjungBoxResult? Test(IReadOnlyList<double> residuals, int lags)
    {
        if (lags < 1 || lags >= residuals.Count)
            throw new ArgumentOutOfRangeException(nameof(lags), lags, "lags lie between 1 and the residuals less one");
        var n = residuals.Count;
        var mean = residuals.Average();
        var off = residuals.Select(residual => residual - mean).ToArray();
        var variance = off.Sum(each => each * each);
        if (variance <= 0)
            return null;
        var sum = 0.0;
        for (var lag = 1; lag <= lags; lag++)
        {
            var together = 0.0;
            for (var i = lag; i < n; i++)
                together += off[i] * off[i - lag];
            var correlation = together / variance;
            sum += correlation * correlation / (n - lag);
        }

        var statistic = n * (n + 2.0) * sum;
        return new(statistic, lags, SpecialFunctions.GammaUpperRegularized(lags / 2.0, statistic / 2));
    }
}
