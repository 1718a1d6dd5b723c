namespace Outcomes.Statistics;

/// <summary>A difference of two proportions, after minus before, whose months vary.</summary>
/// <param name="Value">After minus before, a fraction from −1 to 1.</param>
/// <param name="Lower">Lower end of the interval.</param>
/// <param name="Upper">Upper end of the interval.</param>
/// <param name="Level">Level of the interval.</param>
/// <param name="Before">Events and cases before.</param>
/// <param name="After">Events and cases after.</param>
/// <param name="Dispersion">How much the months vary within the two sides.</param>
/// <param name="Quantile">Student's t that was used in place of z.</param>
public sealed record VaryingDifferenceEstimate(
    double Value, double Lower, double Upper, double Level, EventCount Before, EventCount After, MonthDispersion Dispersion,
    double Quantile);

/// <summary>The interval of a before/after difference over months that vary by themselves.</summary>
public static class VaryingDifference
{
    public const string Method = "newcombe_varying_months";

    public const string Source = Difference.NewcombeSource + "; " + MonthDispersion.Source;

    /// <summary>
    /// Newcombe's square-and-add interval with Wilson limits of X/φ of N/φ and Student's t in place of z. φ, the dispersion of the months
    /// of both sides, is at least 1 and the same for both; t has months with cases − 2 degrees of freedom.
    /// </summary>
    /// <param name="before">Months before the change, without the month of the change.</param>
    /// <param name="after">Months after it.</param>
    /// <param name="level">Two-sided level, above 0 and below 1.</param>
    /// <returns>Null when either side has no case.</returns>
    /// <remarks>
    /// Where no month varies it is about 8 % wider than needed. It holds for one look: looked at again every month, 13 to 21 % of stable
    /// departments see an interval without 0 within two years. Assumes months that vary independently, without a trend already under way.
    /// Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static VaryingDifferenceEstimate? Estimate(
        IReadOnlyList<EventCount> before, IReadOnlyList<EventCount> after, double level = 0.95)
    {
        Requires.Level(level);
        var dispersion = MonthDispersion.Estimate(before, after);
        return Estimate(MonthDispersion.Sum(before), MonthDispersion.Sum(after), dispersion,
            BetaQuantiles.StudentTwoSided(level, dispersion.Degrees), level);
    }

    /// <summary>The same with a quantile that is known.</summary>
    internal static VaryingDifferenceEstimate? Estimate(
        EventCount before, EventCount after, MonthDispersion dispersion, double quantile, double level)
    {
        if (before.Cases == 0 || after.Cases == 0)
            return null;
        var (first, second) = ((double)after.Events / after.Cases, (double)before.Events / before.Cases);
        var one = VaryingProportion.Interval(after, dispersion.Used, quantile);
        var two = VaryingProportion.Interval(before, dispersion.Used, quantile);
        var value = first - second;
        return new(
            value,
            Math.Max(-1, value - Hypotenuse(first - one.Lower, two.Upper - second)),
            Math.Min(1, value + Hypotenuse(one.Upper - first, second - two.Lower)),
            level, before, after, dispersion, quantile);
    }

    private static double Hypotenuse(double a, double b) => Math.Sqrt((a * a) + (b * b));
}
