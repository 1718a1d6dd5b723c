namespace Outcomes.Statistics;

/// <summary>The ratio of two rates of events over exposures.</summary>
public static class RateRatio
{
    /// <summary>The stable name that tables carry.</summary>
    public const string ExactMethod = "rate_ratio_exact";

    /// <summary>The stable name of the mid-P variant.</summary>
    public const string MidPMethod = "rate_ratio_mid_p";

    /// <summary>Where the method comes from.</summary>
    public const string Source =
        "Przyborowski J, Wilenski H. Biometrika 1940;31:313-323 (conditional test); Clopper CJ, Pearson ES. Biometrika 1934;26:404-413";

    /// <summary>
    /// Given k₁ + k₂ events in all, k₁ is binomial with the odds ρ t₁/t₂, ρ the ratio of rates: the ends of the exact interval for that
    /// proportion, turned to odds and multiplied by t₂/t₁.
    /// </summary>
    /// <param name="first">Events and exposure of the first group.</param>
    /// <param name="second">Events and exposure of the second, which divides.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>The ratio without unit; null when neither group had an event, for then the data say nothing about it.</returns>
    /// <remarks>
    /// Assumes two independent groups of independent events with means proportional to exposures known without error. No event in the first
    /// group gives 0 to a finite end, none in the second a finite end to infinity. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Events, an exposure or the level is out of range.</exception>
    public static RatioEstimate? Exact((long Events, double Exposure) first, (long Events, double Exposure) second, double level = 0.95) =>
        Estimate(first, second, level, ClopperPearson.Interval, ExactMethod);

    /// <summary>The same by the mid-P interval: narrower, covering its level about on average instead of always.</summary>
    /// <inheritdoc cref="Exact" path="/param"/>
    /// <inheritdoc cref="Exact" path="/returns"/>
    /// <exception cref="ArgumentOutOfRangeException">Events, an exposure or the level is out of range.</exception>
    public static RatioEstimate? Mid((long Events, double Exposure) first, (long Events, double Exposure) second, double level = 0.95) =>
        Estimate(first, second, level, MidP.Interval, MidPMethod);

    /// <summary>Two-sided exact p of equal rates: the binomial test of k₁ of k₁ + k₂ against t₁/(t₁ + t₂).</summary>
    /// <inheritdoc cref="Exact" path="/param[@name='first']"/>
    /// <inheritdoc cref="Exact" path="/param[@name='second']"/>
    /// <returns>From 0 to 1; 1 without events.</returns>
    /// <exception cref="ArgumentOutOfRangeException">Events or an exposure is out of range.</exception>
    public static double PValue((long Events, double Exposure) first, (long Events, double Exposure) second)
    {
        Check(first, nameof(first));
        Check(second, nameof(second));
        var all = first.Exposure + second.Exposure;
        return first.Events + second.Events == 0 ? 1
            : BinomialTest.TwoSided(first.Events, first.Events + second.Events, first.Exposure / all, second.Exposure / all);
    }

    private static RatioEstimate? Estimate(
        (long Events, double Exposure) first, (long Events, double Exposure) second, double level,
        Func<long, long, double, Bounds> interval, string method)
    {
        Check(first, nameof(first));
        Check(second, nameof(second));
        Requires.Level(level);
        var (k, n, exposures) = (first.Events, first.Events + second.Events, second.Exposure / first.Exposure);
        if (n == 0)
            return null;
        // The upper end as the mirrored lower one, so that a proportion near 1 keeps the digits of its odds.
        var low = interval(k, n, level).Lower;
        var high = interval(n - k, n, level).Lower;
        var value = second.Events == 0 ? double.PositiveInfinity : (double)first.Events / second.Events * exposures;
        return new(value, low / (1 - low) * exposures,
            high == 0 ? double.PositiveInfinity : (1 - high) / high * exposures, level, method, Source);
    }

    private static void Check((long Events, double Exposure) rate, string name)
    {
        if (rate.Events is < 0 or > 100_000_000)
            throw new ArgumentOutOfRangeException(name, rate.Events, "events lie between 0 and 100 million");
        if (!(rate.Exposure > 0 && double.IsFinite(rate.Exposure)))
            throw new ArgumentOutOfRangeException(name, rate.Exposure, "an exposure lies above 0 and is finite");
    }
}
