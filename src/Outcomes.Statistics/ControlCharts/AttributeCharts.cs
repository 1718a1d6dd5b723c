using System.Collections.Immutable;
using MathNet.Numerics;
using NormalDistribution = MathNet.Numerics.Distributions.Normal;

namespace Outcomes.Statistics;

/// <summary>Where the limits of a p or u chart come from.</summary>
public enum LimitMethod
{
    /// <summary>Counts whose binomial or Poisson tail is no larger than the normal tail beyond the multiple (0.135 % for 3).</summary>
    Exact,

    /// <summary>Centre ± multiple × standard error: the usual three-sigma limits, a normal approximation.</summary>
    Normal,

    /// <summary>Laney's p′ and u′: the same with the standard error scaled by the variation between neighbours.</summary>
    Laney,
}

/// <summary>Control charts of counts: proportions (p, p′) and rates (u, u′).</summary>
public static class AttributeCharts
{
    /// <summary>Where the p chart comes from.</summary>
    public const string ProportionSource = "Shewhart WA. Economic Control of Quality of Manufactured Product. 1931; "
        + "NIST/SEMATECH e-Handbook of Statistical Methods 6.3.3.2; exact limits: binomial tails";

    /// <summary>Where the u chart comes from.</summary>
    public const string RateSource = "NIST/SEMATECH e-Handbook of Statistical Methods 6.3.3.1; Montgomery DC. "
        + "Introduction to Statistical Quality Control, ch. 7; exact limits: Poisson tails";

    /// <summary>Where p′ and u′ come from.</summary>
    public const string LaneySource = "Laney DB. Qual Eng 2002;14:531-537";

    /// <summary>The mean range of two values from a standard normal distribution, rounded as published (2/√π = 1.128379).</summary>
    public const double MeanRangeOfTwo = 1.128;

    /// <summary>Exact limits of a rate are summed term by term, up to this expected number of events at a point.</summary>
    public const double MostExpected = 1e7;

    internal const int EnoughPoints = 20;
    private const double FewExpected = 5;

    // Less is rounding: one event among a thousand million cases moves a z by more.
    private const double NoVariation = 1e-9;

    /// <summary>
    /// A p chart (or p′): the proportion met at each point, about the baseline's pooled proportion p̄ = Σ met / Σ eligible. Limits at a
    /// point of n: exact, the smallest and largest k/n with P(fewer than k) ≤ Φ(−m) and P(more than k) ≤ Φ(−m) under Binomial(n, p̄);
    /// normal, p̄ ± m √(p̄(1−p̄)/n); Laney, the same with m σ_z, where σ_z is the mean |z_i − z_{i−1}| over neighbouring baseline points /
    /// 1.128; where neighbours do not differ there are none.
    /// </summary>
    /// <param name="counts">One count a point, in time order; none eligible is a gap. Missing records are left out.</param>
    /// <param name="baseline">The points whose counts give the centre and the limits.</param>
    /// <param name="method">Exact unless said otherwise.</param>
    /// <param name="multiple">m, above 0 and at most 6; 3 is usual.</param>
    /// <returns>Fractions; limits are cut to 0..1 and belong to the inside.</returns>
    /// <remarks>
    /// Assumes independent cases and, but for Laney, one constant rate. Neighbours are valued points with only gaps between them.
    /// Not for rare events: where the lower limit is 0 a fall cannot be seen (use <see cref="RareEventChart"/>). The limits take the
    /// baseline as known without error. Sources: <see cref="ProportionSource"/>; <see cref="LaneySource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count, the baseline or the multiple is out of range.</exception>
    public static ControlChart Proportions(
        ImmutableArray<Count> counts, ChartBaseline baseline, LimitMethod method = LimitMethod.Exact, double multiple = 3)
    {
        foreach (var count in counts)
            Requires.Counts(count, nameof(counts));
        return Make(
            [.. counts.Select(count => ((double)count.Met, (double)count.Eligible))],
            baseline,
            new("p", method == LimitMethod.Laney ? LaneySource : ProportionSource, 1, (rate, size) => Math.Sqrt(rate * (1 - rate) / size),
                (tail, rate, size) => DiscreteTails.BinomialInside(tail, (long)size, rate)),
            method,
            multiple);
    }

    /// <summary>
    /// A u chart (or u′): events per unit of exposure at each point, about the baseline's pooled rate ū = Σ events / Σ exposure. Limits at
    /// a point of exposure t: exact, the smallest and largest k/t with both Poisson(ū t) tails beyond at most Φ(−m); normal, ū ± m √(ū/t);
    /// Laney as for proportions. With exposures of 1 it is the c chart.
    /// </summary>
    /// <param name="events">Events at each point, in time order.</param>
    /// <param name="exposures">What they arose from, in any unit; 0 is a gap.</param>
    /// <param name="baseline">The points whose counts give the centre and the limits.</param>
    /// <param name="method">Exact unless said otherwise.</param>
    /// <param name="multiple">m, above 0 and at most 6; 3 is usual.</param>
    /// <returns>Events per unit of exposure; a limit is never below 0 and belongs to the inside.</returns>
    /// <remarks>
    /// Assumes independent events with a mean proportional to the exposure; not for events of which a case can have only one when they are
    /// common (use <see cref="Proportions"/>). The limits take the baseline as known without error. Sources: <see cref="RateSource"/>;
    /// <see cref="LaneySource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">
    /// A count, an exposure, the baseline or the multiple is out of range, or exact limits are asked for where more than
    /// <see cref="MostExpected"/> events are expected.
    /// </exception>
    public static ControlChart Rates(
        ImmutableArray<long> events, ImmutableArray<double> exposures, ChartBaseline baseline,
        LimitMethod method = LimitMethod.Exact, double multiple = 3)
    {
        if (events.Length != exposures.Length)
            throw new ArgumentOutOfRangeException(nameof(exposures), exposures.Length,
                $"there are {events.Length} points of events, and as many exposures are needed");
        for (var i = 0; i < events.Length; i++)
        {
            if (!(exposures[i] >= 0 && double.IsFinite(exposures[i])))
                throw new ArgumentOutOfRangeException(nameof(exposures), exposures[i], "an exposure is finite and not negative");
            if (events[i] < 0 || (exposures[i] == 0 && events[i] > 0))
                throw new ArgumentOutOfRangeException(nameof(events), events[i],
                    "events are not negative, and there are none without exposure");
        }
        return Make(
            [.. events.Select((count, i) => ((double)count, exposures[i]))],
            baseline,
            new("u", method == LimitMethod.Laney ? LaneySource : RateSource, double.PositiveInfinity,
                (rate, size) => Math.Sqrt(rate / size), (tail, rate, size) => DiscreteTails.PoissonInside(tail, rate * size)),
            method,
            multiple);
    }

    /// <summary>
    /// How a p chart differs from a u chart: name, source, the largest value, the standard error, and the counts inside exact limits.
    /// </summary>
    private sealed record Kind(
        string Name, string Source, double Largest, Func<double, double, double> Error,
        Func<double, double, double, (long Least, long Most)> Inside);

    private static ControlChart Make(
        ImmutableArray<(double Events, double Size)> data, ChartBaseline baseline, Kind kind, LimitMethod method, double multiple)
    {
        ChartBaseline.Require(baseline);
        if (!(multiple is > 0 and <= 6))
            throw new ArgumentOutOfRangeException(nameof(multiple), multiple, "the multiple lies above 0 and is at most 6");
        (double Events, double Size)[] used = [.. data.Where((point, i) => point.Size > 0 && baseline.Contains(i))];
        var size = used.Sum(point => point.Size);
        double? centre = size > 0 ? used.Sum(point => point.Events) / size : null;
        double? rate = centre > 0 && centre < kind.Largest ? centre : null;
        if (method == LimitMethod.Exact && double.IsInfinity(kind.Largest)
            && data.Any(point => !(point.Size * (rate ?? 0) <= MostExpected)))
            throw new ArgumentOutOfRangeException(nameof(data), rate,
                "more events are expected at a point than exact limits are made for; ask for normal limits");
        double[] z = rate is { } known
            ? [.. used.Select(point => ((point.Events / point.Size) - known) / kind.Error(known, point.Size))]
            : [];
        double? variation = z.Length > 1
            ? Enumerable.Range(1, z.Length - 1).Average(i => Math.Abs(z[i] - z[i - 1])) / MeanRangeOfTwo
            : null;
        var limits = rate is { } middle ? Limits(kind, method, multiple, middle, variation) : null;
        ImmutableArray<ControlPoint> points = [.. data.Select((point, i) =>
        {
            Bounds? within = point.Size > 0 ? limits?.Invoke(point.Size) : null;
            return new ControlPoint(i, point.Size > 0 ? point.Events / point.Size : null, within?.Lower,
                within?.Upper, baseline.Contains(i));
        })];
        ControlChart chart = new()
        {
            Method = $"{kind.Name}_{method switch { LimitMethod.Exact => "exact", LimitMethod.Normal => "normal", _ => "laney" }}",
            Source = kind.Source,
            Centre = centre,
            Variation = variation,
            Points = points,
            Doubts = [],
        };
        return chart with { Doubts = [.. Doubts(data, chart, rate, z, kind, method)] };
    }

    private static Func<double, Bounds>? Limits(Kind kind, LimitMethod method, double multiple, double rate, double? variation)
    {
        if (method == LimitMethod.Exact)
        {
            var tail = NormalDistribution.CDF(0, 1, -multiple);
            return size =>
            {
                var (least, most) = kind.Inside(tail, rate, size);
                return new(least / size, most / size);
            };
        }
        if (method == LimitMethod.Normal)
            variation = 1;
        return variation is not > NoVariation ? null : size =>
        {
            var half = multiple * variation.Value * kind.Error(rate, size);
            return new(Math.Max(0, rate - half), Math.Min(kind.Largest, rate + half));
        };
    }

    private static IEnumerable<ChartDoubt> Doubts(
        ImmutableArray<(double Events, double Size)> data, ControlChart chart, double? rate, double[] z, Kind kind, LimitMethod method)
    {
        var (points, variation) = (chart.Points, chart.Variation);
        if (chart.Centre is null)
            yield return ChartDoubt.NoBaseline;
        else if (rate is null)
            yield return ChartDoubt.BaselineAtEdge;
        if (rate is not { } known)
            yield break;
        if (method == LimitMethod.Laney && variation <= NoVariation)
            yield return ChartDoubt.NoVariation;
        if (z.Length < EnoughPoints)
            yield return ChartDoubt.ShortBaseline;
        if (method != LimitMethod.Exact
            && data.Any(point => point.Size > 0 && point.Size * Math.Min(known, kind.Largest - known) < FewExpected))
            yield return ChartDoubt.FewExpected;
        // Pearson's chi-square of the baseline about its pooled rate, on one degree of freedom less than points.
        if (method != LimitMethod.Laney && z.Length > 1
            && SpecialFunctions.GammaUpperRegularized((z.Length - 1) / 2.0, z.Sum(value => value * value) / 2) < 0.05)
            yield return ChartDoubt.Overdispersed;
        ControlPoint[] limited = [.. points.Where(point => point.Lower is not null)];
        if (2 * limited.Count(point => point.Lower <= 0) >= limited.Length)
            yield return ChartDoubt.NoFallSeen;
        if (2 * limited.Count(point => point.Upper >= kind.Largest) >= limited.Length)
            yield return ChartDoubt.NoRiseSeen;
    }
}
