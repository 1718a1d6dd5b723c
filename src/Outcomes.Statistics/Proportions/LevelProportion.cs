namespace Outcomes.Statistics;

/// <summary>
/// The interval of a part of the cases, such as one level of a stratum, whose months vary with those of all cases.
/// </summary>
public static class LevelProportion
{
    public const string Method = "wilson_months_of_all";

    public const string Source = VaryingProportion.Source;

    /// <summary>
    /// The intraclass correlation ρ of the cases of a month is estimated from all cases: ρ = (φ − 1)/k, with φ the dispersion of their
    /// months and k = Σ (n − 1)(1 − n/N)/df, the mean of the other cases in a case's month. The part's dispersion is then the design effect
    /// 1 + ρ (Σ m²/M − 1) of its own months of m in M cases. Where it is above 1: Wilson's interval of X/φ of M/φ with Student's t, of
    /// φ's degrees of freedom, in place of z. Else the plain interval.
    /// </summary>
    /// <param name="part">Events and cases of each month.</param>
    /// <param name="all">The same of all cases, the part's among them, in the same months.</param>
    /// <param name="level">Two-sided level, above 0 and below 1.</param>
    /// <returns>Null without a case. A part that is all cases has the interval of <see cref="VaryingProportion"/>.</returns>
    /// <remarks>
    /// A level has too few cases, and often too few months, to show how much its months vary: by its own dispersion a level that is seen in
    /// three months of twelve holds in as few as 88 %, with the Student's t of two degrees of freedom. With that of all cases it holds in
    /// at least 93 %, also where the level's months vary by themselves (docs/statistics/page-intervals.md).
    /// Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentException">The two have not the same months.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static VaryingEstimate? Estimate(IReadOnlyList<EventCount> part, IReadOnlyList<EventCount> all, double level = 0.95)
    {
        Requires.Level(level);
        ArgumentNullException.ThrowIfNull(part);
        ArgumentNullException.ThrowIfNull(all);
        if (part.Count != all.Count)
            throw new ArgumentException("the part has other months than all cases", nameof(part));
        var (count, whole) = (MonthDispersion.Sum(part), MonthDispersion.Sum(all));
        if (count.Cases == 0)
            return null;
        if (count == whole)
            return VaryingProportion.Estimate(all, level);
        var dispersion = Dispersion(part, count, all, whole);
        var plain = Wilson.Interval(count.Events, count.Cases, level);
        var within = dispersion.IsAboveChance
            ? VaryingProportion.Interval(count, dispersion.Used, BetaQuantiles.StudentTwoSided(level, dispersion.Degrees)) : plain;
        return new(count, (double)count.Events / count.Cases, within, plain, dispersion, level);
    }

    private static MonthDispersion Dispersion(
        IReadOnlyList<EventCount> part, EventCount count, IReadOnlyList<EventCount> all, EventCount whole)
    {
        var seen = MonthDispersion.Estimate(all);
        if (!seen.IsAboveChance)
            return seen;
        double others = 0, squares = 0;
        foreach (var month in all)
            others += month.Cases == 0 ? 0 : (month.Cases - 1) * (1 - ((double)month.Cases / whole.Cases)) / seen.Degrees;
        foreach (var month in part)
            squares += (double)month.Cases * month.Cases;
        // One case a month has no other to be like.
        var correlation = others == 0 ? 0 : Math.Min(1, (seen.Used - 1) / others);
        return seen with { Ratio = 1 + (correlation * ((squares / count.Cases) - 1)) };
    }
}
