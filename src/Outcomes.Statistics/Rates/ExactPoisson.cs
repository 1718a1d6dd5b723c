using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>The exact interval for a Poisson count, and for a count over a known exposure.</summary>
public static class ExactPoisson
{
    /// <summary>The stable name that tables carry.</summary>
    public const string Method = "poisson_exact";

    /// <summary>Where the method comes from.</summary>
    public const string Source = "Garwood F. Biometrika 1936;28:437-442";

    /// <summary>
    /// The rates at which the count has α/2 of Poisson probability at or beyond it, over the exposure: the α/2 quantile of
    /// Gamma(k) and the 1−α/2 quantile of Gamma(k+1), each divided by the exposure, with k events and α = 1 − level.
    /// </summary>
    /// <param name="events">Events seen, 0 to 100 million.</param>
    /// <param name="exposure">What they arose from, above 0 and finite; known without error. 1 gives the limits of the count
    /// itself.</param>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <returns>Events per unit of exposure; lower ≤ events/exposure ≤ upper, and either may exceed 1.</returns>
    /// <remarks>
    /// Assumes that events are independent and that their mean is proportional to the exposure. It never covers less than its level.
    /// Of records over an independent count of the same procedures it is wider than need be while the ratio is below 1 (the records are
    /// then a part of what was counted), and it holds above 1 too, where no proportion exists. Edges, in closed form: 0 events give 0
    /// to −ln(α/2) / exposure. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">An input is out of range.</exception>
    public static Bounds Interval(long events, double exposure, double level = 0.95)
    {
        if (events is < 0 or > 100_000_000)
            throw new ArgumentOutOfRangeException(nameof(events), events, "events lie between 0 and 100 million");
        if (!(exposure > 0 && double.IsFinite(exposure)))
            throw new ArgumentOutOfRangeException(nameof(exposure), exposure, "an exposure lies above 0 and is finite");
        Requires.Level(level);
        var tail = (1 - level) / 2;
        var lower = events == 0 ? 0 : Lower(events, tail);
        var upper = events == 0 ? -Math.Log(tail) : Upper(events, tail);
        return new(lower / exposure, upper / exposure);
    }

    /// <summary>The mean at which <paramref name="k"/> or more events have the probability <paramref name="tail"/>.</summary>
    private static double Lower(long k, double tail)
    {
        // Newton's method on the logarithm of the tail as a function of ln mean: increasing and concave, so that after one step it climbs
        // to the root.
        var log = Math.Log(k);
        for (var step = 0; step < 100; step++)
        {
            var chance = SpecialFunctions.GammaLowerRegularized(k, Math.Exp(log));
            var slope = Math.Exp((k * log) - Math.Exp(log) - SpecialFunctions.GammaLn(k)) / chance;
            var change = Math.Log(chance / tail) / slope;
            log -= change;
            if (Math.Abs(change) < 1e-14)
                break;
        }
        return Math.Exp(log);
    }

    /// <summary>The mean at which <paramref name="k"/> or fewer events have the probability <paramref name="tail"/>.</summary>
    private static double Upper(long k, double tail)
    {
        // The same on the mean itself: decreasing and concave. On its logarithm the first step could leave the range of numbers.
        double mean = k + 1;
        for (var step = 0; step < 100; step++)
        {
            var chance = SpecialFunctions.GammaUpperRegularized(k + 1, mean);
            var slope = Math.Exp((k * Math.Log(mean)) - mean - SpecialFunctions.GammaLn(k + 1)) / chance;
            var change = Math.Log(chance / tail) / slope;
            mean += change;
            if (Math.Abs(change) < 1e-14 * mean)
                break;
        }
        return mean;
    }
}
