using System.Collections.Immutable;
using CsCheck;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class GroupLawTests
{
    private static readonly Gen<Count> AnyCount =
        Gen.Select(Gen.Long[0, 120], Gen.Double[0, 1], (eligible, share) => new Count((long)(share * (eligible + 0.999)), eligible, 0));

    private static readonly Gen<ImmutableArray<GroupCount>> AnyGroups =
        AnyCount.Array[1, 25].Select(counts => counts.Select((count, i) => new GroupCount($"site {i}", count)).ToImmutableArray());

    private static readonly Gen<ImmutableArray<Effect>> AnyEffects =
        Gen.Select(Gen.Double[-3, 3], Gen.Double[0.01, 2], (value, variance) => new Effect(value, variance)).Array[1, 12]
            .Select(effects => ImmutableArray.Create(effects));

    [Fact]
    public void Groups_stay_in_the_order_they_came_in() => AnyGroups.Sample(groups =>
    {
        Assert.Equal(groups.Select(group => group.Group), Funnels.Analyse(groups).Points.Select(point => point.Group));
        Assert.Equal(
            Funnels.Analyse(groups).Points.Select(point => point.Place),
            Funnels.Analyse([.. groups.Reverse()]).Points.Reverse().Select(point => point.Place));
    });

    [Fact]
    public void The_target_is_the_proportion_of_all_records_together() => AnyGroups.Sample(groups =>
    {
        var total = groups.Aggregate(default(Count), (sum, group) => sum + group.Count);
        Assert.Equal(total.Eligible == 0 ? null : (double)total.Met / total.Eligible, Funnels.Analyse(groups).Target);
    });

    [Fact]
    public void Without_more_variation_than_chance_widening_changes_nothing() =>
        Gen.Select(Gen.Long[20, 300].Array[3, 15], Gen.Int[0, 2].Select(index => (FunnelLimits)index)).Sample((sizes, limits) =>
        {
            // Every group within rounding of the target: φ is below 1 and τ² is 0.
            ImmutableArray<GroupCount> groups = [.. sizes.Select((n, i) => new GroupCount($"{i}", new((long)Math.Round(0.3 * n), n, 0)))];
            var plain = Funnels.Analyse(groups, 0.3, limits);
            Assert.True(plain.Dispersion!.Phi < 1 && plain.Dispersion.TauSquared == 0);
            foreach (var widening in new[] { Widening.Multiplicative, Widening.Additive })
                Assert.Equal(plain.Curve, Funnels.Analyse(groups, 0.3, limits, widening).Curve);
        });

    [Fact]
    public void Widening_only_widens_and_normal_limits_widen_as_published() => AnyGroups.Sample(groups =>
    {
        var plain = Funnels.Analyse(groups, 0.4, FunnelLimits.Normal);
        var (times, plus) = (Funnels.Analyse(groups, 0.4, FunnelLimits.Normal, Widening.Multiplicative),
            Funnels.Analyse(groups, 0.4, FunnelLimits.Normal, Widening.Additive));
        for (var i = 0; i < groups.Length; i++)
        {
            if (plain.Points[i].Limits is not { } limit || times.Points[i].Limits is not { } wide || plus.Points[i].Limits is not { } added)
                continue;
            Assert.True(wide.Within95.Upper >= limit.Within95.Upper && added.Within998.Lower <= limit.Within998.Lower);
            var s2 = 0.24 / groups[i].Count.Eligible;
            var (phi, tau) = (plain.Dispersion is null ? 1 : Math.Max(1, plain.Dispersion.Phi), plain.Dispersion?.TauSquared ?? 0);
            // Spiegelhalter 2005: target ± z √(φ s²), and target ± z √(s² + τ²).
            Assert.Equal(Math.Min(1, 0.4 + (1.959963984540054 * Math.Sqrt(phi * s2))), wide.Within95.Upper, 1e-9);
            Assert.Equal(Math.Max(0, 0.4 - (3.090232306167813 * Math.Sqrt(s2 + tau))), added.Within998.Lower, 1e-9);
        }
    });

    [Fact]
    public void Exact_funnel_limits_widen_as_records_fall_and_nest() =>
        Gen.Select(Gen.Long[1, 3_000], Gen.Double[0.01, 0.99]).Sample((n, target) =>
        {
            var points = Funnels.Analyse([new("few", new(0, n, 0)), new("many", new(0, 4 * n, 0))], target).Points;
            var (few, many) = (points[0].Limits!, points[1].Limits!);
            Assert.True(few.Within998.Lower <= few.Within95.Lower && few.Within95.Upper <= few.Within998.Upper);
            Assert.True(many.Within95.Upper - many.Within95.Lower <= few.Within95.Upper - few.Within95.Lower + (1.0 / n));
            Assert.True(many.Within998.Upper - many.Within998.Lower <= few.Within998.Upper - few.Within998.Lower + (1.0 / n));
        });

    [Fact]
    public void A_group_is_placed_outside_only_where_its_exact_tail_is_small() =>
        Gen.Select(Gen.Int[1, 80], Gen.Double[0.02, 0.98], Gen.Double[0, 1]).Sample((n, target, share) =>
        {
            var met = (int)(share * (n + 0.999));
            var place = Funnels.Analyse([new("A", new(met, n, 0))], target).Points[0].Place;
            var tail = Math.Min(Binomial.AtLeast(met, n, target), Binomial.AtLeast(n - met, n, 1 - target));
            var expected = tail <= 0.001 ? FunnelPlace.Outside998 : tail <= 0.025 ? FunnelPlace.Outside95 : FunnelPlace.Inside;
            Assert.True(place == expected || Math.Abs(tail - 0.001) < 1e-12 || Math.Abs(tail - 0.025) < 1e-12, $"{place}, tail {tail}");
        });

    [Fact]
    public void The_curve_rises_in_size_to_beyond_the_largest_group() =>
        AnyGroups.Where(groups => groups.Any(group => group.Count.Met > 0)).Sample(groups =>
        {
            var curve = Funnels.Analyse(groups, 0.5).Curve;
            Assert.Equal(curve.Select(limit => limit.Eligible).Order().Distinct(), curve.Select(limit => limit.Eligible));
            Assert.Equal(1, curve[0].Eligible);
            Assert.True(curve[^1].Eligible >= groups.Max(group => group.Count.Eligible));
        });

    [Fact]
    public void A_funnel_that_should_not_be_read_says_why()
    {
        GroupCount[] twelve = [.. Enumerable.Range(0, 12).Select(i => new GroupCount($"{i}", new(30, 100, 0)))];
        Assert.Empty(Funnels.Analyse([.. twelve]).Doubts);
        Assert.Equal([FunnelDoubt.FewGroups, FunnelDoubt.OneGroupRules], Funnels.Analyse([.. twelve[..2]]).Doubts);
        Assert.Equal([FunnelDoubt.FewGroups], Funnels.Analyse([.. twelve[..2]], 0.3).Doubts);
        Assert.Equal([FunnelDoubt.NoTarget], Funnels.Analyse([new("A", new(0, 10, 0))]).Doubts);
        GroupCount[] wild = [.. twelve.Select((group, i) => group with { Count = new(i % 2 == 0 ? 10 : 60, 100, 0) })];
        Assert.Equal([FunnelDoubt.Overdispersed, FunnelDoubt.NotComparable], Funnels.Analyse([.. wild]).Doubts);
        Assert.Equal([FunnelDoubt.NotComparable], Funnels.Analyse([.. wild], widening: Widening.Additive).Doubts);
        Assert.Throws<ArgumentOutOfRangeException>("target", () => Funnels.Analyse([.. twelve], 1));
        Assert.Throws<ArgumentOutOfRangeException>("groups", () => Funnels.Analyse([new("A", new(3, 2, 0))]));
        Assert.Throws<ArgumentOutOfRangeException>("winsorise", () => Overdispersion.Estimate([1, 2], [1, 1], 0.5));
    }

    [Fact]
    public void Shrunken_values_lie_between_the_groups_own_and_the_mean() => AnyGroups.Where(Fits).Sample(groups =>
    {
        var shrunk = BetaBinomial.Shrink(groups);
        foreach (var group in shrunk.Groups)
        {
            var own = group.Count.Eligible == 0 ? shrunk.Prior.Mean : (double)group.Count.Met / group.Count.Eligible;
            Assert.InRange(group.Value, Math.Min(own, shrunk.Prior.Mean) - 1e-12, Math.Max(own, shrunk.Prior.Mean) + 1e-12);
            Assert.Equal(shrunk.Prior.Spread == 0, group.Within is null);
            if (group.Within is { } within)
                Assert.True(within.Lower >= 0 && within.Lower < within.Upper && within.Upper <= 1);
        }
    });

    [Fact]
    public void The_prior_is_no_less_likely_than_its_neighbours() => AnyGroups.Where(Fits).Sample(groups =>
    {
        var (mean, spread) = BetaBinomial.Fit([.. groups.Select(group => group.Count)]);
        var best = BruteForce.LogLikelihood(groups.Select(group => group.Count), mean, spread);
        foreach (var (m, s) in new[]
        {
            (mean * 0.99, spread), (mean + ((1 - mean) * 0.01), spread), (mean, spread * 0.98), (mean, (spread * 1.02) + 1e-4)
        })
            Assert.True(BruteForce.LogLikelihood(groups.Select(group => group.Count), m, s) <= best + 1e-9);
    });

    [Fact]
    public void Counting_the_opposite_mirrors_shrinkage() => AnyGroups.Where(Fits).Sample(groups =>
    {
        var one = BetaBinomial.Shrink(groups);
        var other = BetaBinomial.Shrink(
            [.. groups.Select(group => group with { Count = group.Count with { Met = group.Count.Eligible - group.Count.Met } })]);
        Assert.Equal(one.Prior.Mean, 1 - other.Prior.Mean, 1e-7);
        Assert.All(one.Groups.Zip(other.Groups), pair => Assert.Equal(pair.First.Value, 1 - pair.Second.Value, 1e-6));
    });

    [Fact]
    public void The_pool_of_one_group_is_that_group() => Gen.Select(Gen.Double[-3, 3], Gen.Double[0.01, 2]).Sample((value, variance) =>
    {
        foreach (var between in Enum.GetValues<BetweenVariance>())
        {
            var pooled = RandomEffects.Pool([new(value, variance)], between);
            Assert.Equal((0.0, 0), (pooled.TauSquared, pooled.Degrees));
            Assert.Equal(value, pooled.Value, 1e-14);
            Assert.Equal(Math.Sqrt(variance), pooled.Error, 1e-12);
            Assert.True(pooled is { HartungKnapp: null, Prediction: null, ISquared: null, QChance: null });
        }
    });

    [Fact]
    public void A_variance_that_is_a_power_of_two_is_found()
    {
        // Paule and Mandel's Q is its degrees of freedom, 2, at a variance of exactly 2: 2 × 1/4 × (4/3)² + 2/5 × (5/3)² = 2.
        ImmutableArray<Effect> effects = [new(0, 2), new(-3, 0.5), new(0, 2)];
        Assert.Equal(2, RandomEffects.Pool(effects, BetweenVariance.PauleMandel).TauSquared, 1e-12);
        Assert.Equal(8, RandomEffects.Pool([.. effects.Select(effect => new Effect(-2 * effect.Value, 4 * effect.Variance))],
            BetweenVariance.PauleMandel).TauSquared, 1e-12);
    }

    [Fact]
    public void Pooling_moves_with_its_values_and_does_not_see_their_order() => AnyEffects.Sample(effects =>
    {
        foreach (var between in Enum.GetValues<BetweenVariance>())
        {
            var pooled = RandomEffects.Pool(effects, between);
            var moved =
                RandomEffects.Pool([.. effects.Reverse().Select(effect => new Effect(-2 * effect.Value, 4 * effect.Variance))], between);
            Assert.Equal(-2 * pooled.Value, moved.Value, 1e-7);
            Assert.Equal(4 * pooled.TauSquared, moved.TauSquared, 1e-6 * (1 + pooled.TauSquared));
            Assert.InRange(pooled.Value, effects.Min(effect => effect.Value) - 1e-12, effects.Max(effect => effect.Value) + 1e-12);
            Assert.True(pooled.ISquared is null or (>= 0 and < 1));
            Assert.True(pooled.HartungKnapp is not { } wide || wide.Upper - wide.Lower >= pooled.Within.Upper - pooled.Within.Lower);
        }
    });

    [Fact]
    public void A_proportion_comes_back_from_its_logit() => Gen.Select(Gen.Long[2, 400], Gen.Double[0, 1]).Sample((n, share) =>
    {
        var met = 1 + (long)(share * (n - 1.001));
        Assert.Equal((double)met / n, ProportionScale.FromLogit(ProportionScale.Logit(new(met, n, 0)).Value), 1e-12);
    });

    [Fact]
    public void Quantiles_of_beta_and_Student_are_the_textbook_ones()
    {
        // Student's t in any table: 12.706 on 1 degree of freedom, 2.228 on 10, 1.984 on 100. Beta(1, b): 1 − (1 − p)^(1/b).
        Assert.Equal(12.706, BetaQuantiles.StudentTwoSided(0.95, 1), 5e-4);
        Assert.Equal(2.228, BetaQuantiles.StudentTwoSided(0.95, 10), 5e-4);
        Assert.Equal(1.984, BetaQuantiles.StudentTwoSided(0.95, 100), 5e-4);
        foreach (var b in new[] { 0.5, 1, 7, 300 })
            foreach (var p in new[] { 1e-6, 0.025, 0.5, 0.999 })
                Assert.Equal(1 - Math.Pow(1 - p, 1 / b), BetaQuantiles.Beta(p, 1, b), 1e-10 * p);
    }

    private static bool Fits(ImmutableArray<GroupCount> groups) =>
        groups.Count(group => group.Count.Eligible > 0) > 1
            && groups.Any(group => group.Count.Met > 0 && group.Count.Met < group.Count.Eligible);
}
