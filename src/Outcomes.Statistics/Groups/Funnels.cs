using System.Collections.Immutable;
using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>Makes funnel plots of proportions.</summary>
public static class Funnels
{
    /// <summary>Where the method comes from.</summary>
    public const string Source = Overdispersion.Source;

    private const double Tail95 = 0.025;
    private const double Tail998 = 0.001;
    private const int EnoughGroups = 10;
    private const int CurvePoints = 200;

    /// <summary>
    /// Groups against a target, with limits at 95 % and 99.8 % for each number of records. Exact: k/n of the binomial counts whose tail
    /// beyond is at most 2.5 % and 0.1 %. Interpolated: (r − α)/n with r the first count at which P(R ≤ r) &gt; p and α = (P(R ≤ r) −
    /// p)/P(R = r), p being 0.025, 0.975, 0.001, 0.999. Normal: target ± z √(target (1−target)/n). Each limit's distance from the target is
    /// then widened as asked.
    /// </summary>
    /// <param name="groups">One count a group, in any order, which is kept.</param>
    /// <param name="target">What to compare with, above 0 and below 1; null for the pooled proportion Σ met / Σ eligible.</param>
    /// <param name="limits">Exact unless said otherwise.</param>
    /// <param name="widening">None unless said otherwise; published for normal limits, applied to the others in the same
    /// proportion.</param>
    /// <param name="winsorise">Share of z-scores pulled in at each end when variation is estimated.</param>
    /// <returns>Fractions, cut to 0..1. A limit itself is inside.</returns>
    /// <remarks>
    /// Assumes independent records and comparable case mix: a difference in patients looks like a difference in care. Of many groups some
    /// lie outside the 95 % limits by chance. Not for ranking, not for operators. Source: <see cref="Source"/>; exact steps: binomial
    /// tails.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count, the target or the share to winsorise is out of range.</exception>
    public static Funnel Analyse(
        ImmutableArray<GroupCount> groups, double? target = null, FunnelLimits limits = FunnelLimits.Exact,
        Widening widening = Widening.None, double winsorise = 0.1)
    {
        foreach (var group in groups)
            Requires.Counts(group.Count, nameof(groups));
        if (target is { } given && !(given is > 0 and < 1))
            throw new ArgumentOutOfRangeException(nameof(target), target, "a target lies above 0 and below 1");
        var total = groups.Aggregate(default(Count), (sum, group) => sum + group.Count);
        var centre = target ?? (total.Eligible > 0 ? (double)total.Met / total.Eligible : null);
        double? usable = centre is > 0 and < 1 ? centre : null;
        var scored = groups.Select(group => Score(group, centre, usable)).ToArray();
        var used = scored.Where(point => point.Z is not null).ToArray();
        var dispersion = usable is { } middle && used.Length > 1
            ? Overdispersion.Estimate([.. used.Select(point => point.Z!.Value)],
                [.. used.Select(point => Error(middle, point.Count.Eligible))], winsorise)
            : null;
        FunnelLimit? At(long eligible) => usable is { } known && eligible > 0 ? Limit(known, eligible, limits, widening, dispersion) : null;
        return new()
        {
            Target = centre,
            Limits = limits,
            Widening = widening,
            Dispersion = dispersion,
            Points = [.. scored.Select(point => Placed(point, At(point.Count.Eligible)))],
            Curve = [.. Sizes(groups).Select(At).OfType<FunnelLimit>()],
            Doubts = [.. Doubts(groups, target, total, usable, dispersion, used.Length, widening)],
        };
    }

    /// <summary>The limit (r − α)/n at probability p, not cut to 0..1.</summary>
    internal static double Interpolated(double target, long eligible, double p)
    {
        long r = Below(target, eligible, p);
        return (r - ((DiscreteTails.BinomialAtMost(r, eligible, target) - p) / DiscreteTails.Binomial(r, eligible, target))) / eligible;
    }

    /// <summary>The first count at which P(R ≤ r) exceeds p.</summary>
    private static long Below(double target, long eligible, double p)
    {
        long under = -1, over = eligible;
        while (over - under > 1)
        {
            var middle = under + ((over - under) / 2);
            (under, over) = DiscreteTails.BinomialAtMost(middle, eligible, target) > p ? (under, middle) : (middle, over);
        }
        return over;
    }

    private static FunnelLimit Limit(double target, long eligible, FunnelLimits limits, Widening widening, Dispersion? dispersion)
    {
        var error = Error(target, eligible);
        var factor = (widening, dispersion) switch
        {
            (Widening.Multiplicative, { } known) => Math.Sqrt(Math.Max(1, known.Phi)),
            (Widening.Additive, { } known) => Math.Sqrt(1 + (known.TauSquared / (error * error))),
            _ => 1,
        };
        return new(eligible, Within(Tail95), Within(Tail998));

        Bounds Within(double tail)
        {
            var (lower, upper) = Plain(tail);
            // Without widening the ends stay what they are, so that a count on a limit is equal to it.
            return factor == 1
                ? new(Math.Max(0, lower), Math.Min(1, upper))
                : new(Math.Max(0, target - (factor * (target - lower))), Math.Min(1, target + (factor * (upper - target))));
        }

        (double Lower, double Upper) Plain(double tail)
        {
            if (limits == FunnelLimits.Exact)
            {
                var (least, most) = DiscreteTails.BinomialInside(tail, eligible, target);
                return ((double)least / eligible, (double)most / eligible);
            }
            if (limits == FunnelLimits.Interpolated)
                return (Interpolated(target, eligible, tail), Interpolated(target, eligible, 1 - tail));
            var half = Normal.TwoSided(1 - (2 * tail)) * error;
            return (target - half, target + half);
        }
    }

    private static double Error(double target, long eligible) => Math.Sqrt(target * (1 - target) / eligible);

    private static FunnelPoint Score(GroupCount group, double? centre, double? usable)
    {
        double? value = group.Count.Eligible > 0 ? (double)group.Count.Met / group.Count.Eligible : null;
        var z = usable is { } known && value is { } seen ? (seen - known) / Error(known, group.Count.Eligible) : (double?)null;
        return new(group.Group, group.Count, value, z, null, FunnelPlace.Inside);
    }

    private static FunnelPoint Placed(FunnelPoint point, FunnelLimit? limits) => point with
    {
        Limits = limits,
        Place = limits is null || point.Value is not { } value ? FunnelPlace.Inside
            : value < limits.Within998.Lower || value > limits.Within998.Upper ? FunnelPlace.Outside998
            : value < limits.Within95.Lower || value > limits.Within95.Upper ? FunnelPlace.Outside95
            : FunnelPlace.Inside,
    };

    /// <summary>Sizes to draw at: evenly from 1 to a tenth beyond the largest group.</summary>
    private static IEnumerable<long> Sizes(ImmutableArray<GroupCount> groups)
    {
        var largest = groups.Select(group => group.Count.Eligible).DefaultIfEmpty().Max();
        var end = largest + (largest / 10);
        return Enumerable.Range(0, CurvePoints).Select(i => 1 + ((end - 1) * i / (CurvePoints - 1))).Where(size => size <= end).Distinct();
    }

    private static IEnumerable<FunnelDoubt> Doubts(
        ImmutableArray<GroupCount> groups, double? target, Count total, double? usable, Dispersion? dispersion, int used, Widening widening)
    {
        if (usable is null)
        {
            yield return FunnelDoubt.NoTarget;
            yield break;
        }
        if (used < EnoughGroups)
            yield return FunnelDoubt.FewGroups;
        if (dispersion is { } known && widening == Widening.None
            && SpecialFunctions.GammaUpperRegularized(used / 2.0, used * known.Phi / 2) < 0.05)
            yield return FunnelDoubt.Overdispersed;
        if (dispersion?.Phi > 4)
            yield return FunnelDoubt.NotComparable;
        if (target is null && groups.Any(group => 3 * group.Count.Eligible > total.Eligible))
            yield return FunnelDoubt.OneGroupRules;
    }
}
