using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>Events so far against those expected so far.</summary>
/// <param name="Observed">Events up to and including this point.</param>
/// <param name="Expected">The number expected by then.</param>
/// <param name="Ratio">Observed over expected; null while nothing was expected.</param>
/// <param name="Lower">Lower end of the ratio's exact interval.</param>
/// <param name="Upper">Upper end.</param>
public sealed record CumulativePoint(long Observed, double Expected, double? Ratio, double? Lower, double? Upper);

/// <summary>Cumulative observed against expected counts, for events too rare for any monthly chart.</summary>
public static class CumulativePoisson
{
    /// <summary>Where the interval comes from.</summary>
    public const string Source = ExactPoisson.Source;

    /// <summary>
    /// At each point the sums O of observed and E of expected events so far, their ratio O/E, and its exact Poisson interval
    /// (<see cref="ExactPoisson.Interval"/> with exposure E).
    /// </summary>
    /// <param name="observed">Events at each point, in time order.</param>
    /// <param name="expected">Expected events at each point, fixed beforehand: cases × a declared rate, or a sum of predicted
    /// risks.</param>
    /// <param name="level">Two-sided confidence level of each interval.</param>
    /// <remarks>
    /// Assumes independent events and an expectation known without error. Each interval holds for one look: following the line and stopping
    /// where it excludes 1 misleads a stable unit far more often than its level says. Expectation 0 so far: no ratio.
    /// Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">The lists differ in length, a number is negative or not finite, or the level is out of
    /// range.</exception>
    public static ImmutableArray<CumulativePoint> Accumulate(
        ImmutableArray<long> observed, ImmutableArray<double> expected, double level = 0.95)
    {
        Requires.Level(level);
        if (observed.Length != expected.Length)
            throw new ArgumentOutOfRangeException(nameof(expected), expected.Length,
                $"there are {observed.Length} observed numbers, and as many expected ones are needed");
        var points = ImmutableArray.CreateBuilder<CumulativePoint>(observed.Length);
        var (sum, mean) = (0L, 0.0);
        for (var i = 0; i < observed.Length; i++)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(observed[i], nameof(observed));
            if (!(expected[i] >= 0 && double.IsFinite(expected[i])))
                throw new ArgumentOutOfRangeException(nameof(expected), expected[i], "an expected number is finite and not negative");
            sum += observed[i];
            mean += expected[i];
            Bounds? ends = mean > 0 ? ExactPoisson.Interval(sum, mean, level) : null;
            points.Add(new(sum, mean, mean > 0 ? sum / mean : null, ends?.Lower, ends?.Upper));
        }
        return points.MoveToImmutable();
    }
}
