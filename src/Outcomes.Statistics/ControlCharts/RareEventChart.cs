using System.Collections.Immutable;
using MathNet.Numerics;
using NormalDistribution = MathNet.Numerics.Distributions.Normal;

namespace Outcomes.Statistics;

/// <summary>Control charts for rare events: cases from one event to the next (g), and time from one to the next (t).</summary>
/// <remarks>
/// A long gap is what one hopes for when the event is unwanted: above the upper limit means rarer, below the lower limit means more often.
/// </remarks>
public static class RareEventChart
{
    /// <summary>Where the chart of cases between events comes from.</summary>
    public const string CasesSource = "Benneyan JC. Health Care Manag Sci 2001;4:305-318 (g chart); exact limits: geometric tails, "
        + "Kaminsky FC et al. J Qual Technol 1992;24:63-69 (citations from memory)";

    /// <summary>Where the chart of times between events comes from.</summary>
    public const string TimesSource = "Nelson LS. J Qual Technol 1994;26:239-240 (transform); exact limits: exponential tails, "
        + "Montgomery DC. Introduction to Statistical Quality Control, ch. 7 (from memory)";

    /// <summary>
    /// Nelson's power, 1/3.6 rounded as printed: an exponential variable raised to it is one of Weibull shape 3.6, which is close to
    /// normal.
    /// </summary>
    public const double NelsonPower = 0.2777;

    private const double Often = 0.2;

    /// <summary>
    /// A g chart: cases up to and including the next event (1 when the very next case had it). With mean m over the baseline's gaps, p =
    /// 1/m and geometric tails P(more than x) = (1−p)^x. Exact limits: the smallest and largest x inside, with at most Φ(−multiple) beyond
    /// each. Centre: the median, ⌈ln ½ / ln(1−p)⌉, so that half the gaps lie on either side.
    /// </summary>
    /// <param name="cases">Cases of each gap, at least 1, in order; the cases before the first event are no gap unless counting began with
    /// an event.</param>
    /// <param name="since">Cases since the last event, an open gap drawn last; null to leave it out.</param>
    /// <param name="baseline">The gaps that give the mean; an open one never does.</param>
    /// <param name="method">Exact, or normal: m ± multiple √(m(m−1)), Benneyan's limits about the mean, whose lower one is nearly always
    /// below 1.</param>
    /// <param name="multiple">Above 0 and at most 6; 3 is usual.</param>
    /// <remarks>
    /// Assumes independent cases with one chance of the event. Not for common events (one in five or more), nor with few baseline gaps: the
    /// limits take p as known. Edge: every baseline gap 1 gives no limits. Source: <see cref="CasesSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A gap, the baseline or the multiple is out of range.</exception>
    public static ControlChart Cases(
        ImmutableArray<long> cases, long? since, ChartBaseline baseline, LimitMethod method = LimitMethod.Exact, double multiple = 3)
    {
        if (method == LimitMethod.Laney)
            throw new ArgumentOutOfRangeException(nameof(method), method, "limits are exact or normal");
        foreach (var gap in cases)
            ArgumentOutOfRangeException.ThrowIfLessThan(gap, 1, nameof(cases));
        if (since is { } open)
            ArgumentOutOfRangeException.ThrowIfNegative(open, nameof(since));
        var tail = Tail(baseline, multiple);
        var mean = Mean(cases.Select(gap => (double)gap), baseline);
        Bounds? limits = null;
        double? centre = method == LimitMethod.Normal ? mean : null;
        if (mean > 1)
        {
            var log = SpecialFunctions.Log1p(-1 / mean.Value);
            var half = multiple * Math.Sqrt(mean.Value * (mean.Value - 1));
            // P(at most x) = 1 − (1−p)^x reaches the tail, or its complement, first at these x.
            limits = method == LimitMethod.Normal
                ? new(Math.Max(1, mean.Value - half), mean.Value + half)
                : new(First(SpecialFunctions.Log1p(-tail) / log), First(Math.Log(tail) / log));
            centre ??= First(-Constants.Ln2 / log);
        }
        return Chart(
            (method == LimitMethod.Exact ? "g_exact" : "g_normal", CasesSource), cases.Select(gap => (double)gap), since,
            baseline, centre, limits,
            [.. Doubts(mean, mean > 1, cases.Length, baseline), .. mean <= 1 / Often
                ? [ChartDoubt.NotRare]
                : ImmutableArray<ChartDoubt>.Empty, .. limits?.Lower <= 1 ? [ChartDoubt.NoFallSeen] : ImmutableArray<ChartDoubt>.Empty]);
    }

    /// <summary>
    /// A t chart with exact exponential limits: with mean m over the baseline's times, lower −m ln(1−τ) and upper −m ln τ, where τ =
    /// Φ(−multiple), about the median m ln 2.
    /// </summary>
    /// <param name="times">Time of each gap in days or another unit, in order; 0 when two events share a day.</param>
    /// <param name="since">Time since the last event, an open gap drawn last; null to leave it out.</param>
    /// <param name="baseline">The gaps that give the mean; an open one never does.</param>
    /// <param name="multiple">Above 0 and at most 6; 3 is usual.</param>
    /// <remarks>
    /// Assumes events at a constant rate of time, whatever the number of cases: where activity changes, use <see cref="Cases"/>. Not for
    /// times that are often 0. The limits take m as known: with few baseline gaps that is far from true. Source: <see cref="TimesSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A time, the baseline or the multiple is out of range.</exception>
    public static ControlChart Times(ImmutableArray<double> times, double? since, ChartBaseline baseline, double multiple = 3)
    {
        CheckTimes(times, since);
        var tail = Tail(baseline, multiple);
        var mean = Mean(times, baseline);
        Bounds? limits = mean > 0 ? new(-mean.Value * SpecialFunctions.Log1p(-tail), -mean.Value * Math.Log(tail)) : null;
        return Chart(("t_exact", TimesSource), times, since, baseline, mean > 0 ? mean * Constants.Ln2 : null, limits,
            [.. TimeDoubts(times, mean, baseline)]);
    }

    /// <summary>
    /// A t chart by Nelson's transform: y = x^0.2777 is nearly normal when x is exponential, so its individuals chart
    /// (<see cref="IndividualsCharts"/>) has limits, which are turned back to time by the inverse power; a lower limit below 0 becomes 0.
    /// </summary>
    /// <remarks>
    /// As <see cref="Times"/>; the limits come from moving ranges, so it assumes a little less of the distribution. An open time is judged
    /// with the same limits.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A time or the baseline is out of range.</exception>
    public static ControlChart TransformedTimes(ImmutableArray<double> times, double? since, ChartBaseline baseline)
    {
        CheckTimes(times, since);
        var chart = IndividualsCharts.Analyse([.. times.Select(time => (double?)Math.Pow(time, NelsonPower))], baseline).Values;
        double? half = chart.Variation * IndividualsCharts.ValueFactor;
        Bounds? limits = chart.Centre is { } centre && half is > 0 and var width ? new(Back(centre - width), Back(centre + width)) : null;
        return Chart(("t_nelson", TimesSource), times, since, baseline, chart.Centre is { } middle ? Back(middle) : null, limits,
            [.. chart.Variation == 0 ? [ChartDoubt.NoVariation] : Array.Empty<ChartDoubt>(),
                .. TimeDoubts(times, Mean(times, baseline), baseline)]) with
        {
            Variation = chart.Variation,
        };
    }

    private static double Back(double transformed) => Math.Pow(Math.Max(0, transformed), 1 / NelsonPower);

    /// <summary>The least whole number not below, from 1; a rounding error above a whole number does not push it up.</summary>
    private static double First(double quantile) => Math.Max(1, Math.Ceiling(quantile * (1 - 1e-14)));

    private static double Tail(ChartBaseline baseline, double multiple)
    {
        ChartBaseline.Require(baseline);
        if (!(multiple is > 0 and <= 6))
            throw new ArgumentOutOfRangeException(nameof(multiple), multiple, "the multiple lies above 0 and is at most 6");
        return NormalDistribution.CDF(0, 1, -multiple);
    }

    private static double? Mean(IEnumerable<double> gaps, ChartBaseline baseline)
    {
        double[] used = [.. gaps.Where((_, i) => baseline.Contains(i))];
        return used.Length > 0 ? used.Average() : null;
    }

    private static void CheckTimes(ImmutableArray<double> times, double? since)
    {
        foreach (var time in times)
            if (!(time >= 0 && double.IsFinite(time)))
                throw new ArgumentOutOfRangeException(nameof(times), time, "a time is finite and not negative");
        if (since is { } open && !(open >= 0 && double.IsFinite(open)))
            throw new ArgumentOutOfRangeException(nameof(since), since, "a time is finite and not negative");
    }

    private static IEnumerable<ChartDoubt> Doubts(double? mean, bool limited, int length, ChartBaseline baseline)
    {
        if (mean is null)
            yield return ChartDoubt.NoBaseline;
        else if (!limited)
            yield return ChartDoubt.BaselineAtEdge;
        else if (Math.Min(length - baseline.From, baseline.Points) < AttributeCharts.EnoughPoints)
            yield return ChartDoubt.ShortBaseline;
    }

    private static IEnumerable<ChartDoubt> TimeDoubts(ImmutableArray<double> times, double? mean, ChartBaseline baseline) =>
        10 * times.Count(time => time == 0) >= times.Length && times.Any(time => time == 0)
            ? [.. Doubts(mean, mean > 0, times.Length, baseline), ChartDoubt.ZeroTimes]
            : Doubts(mean, mean > 0, times.Length, baseline);

    private static ControlChart Chart(
        (string Method, string Source) kind, IEnumerable<double> gaps, double? since, ChartBaseline baseline, double? centre,
        Bounds? limits, ImmutableArray<ChartDoubt> doubts)
    {
        ImmutableArray<ControlPoint> points =
            [.. gaps.Select((gap, i) => new ControlPoint(i, gap, limits?.Lower, limits?.Upper, baseline.Contains(i)))];
        if (since is { } open)
            points = points.Add(new(points.Length, open, limits?.Lower, limits?.Upper, false, true));
        return new() { Method = kind.Method, Source = kind.Source, Centre = centre, Points = points, Doubts = doubts };
    }
}
