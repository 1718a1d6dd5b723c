using System.Collections.Immutable;
using MathNet.Numerics;
using MathNet.Numerics.RootFinding;

namespace Outcomes.Statistics;

/// <summary>How the variance between groups is estimated.</summary>
public enum BetweenVariance
{
    /// <summary>None: one true value for all (fixed, or common, effect).</summary>
    None,

    /// <summary>From the moment of Cochran's Q: closed form.</summary>
    DerSimonianLaird,

    /// <summary>The variance at which the generalised Q equals its expectation.</summary>
    PauleMandel,

    /// <summary>Restricted maximum likelihood.</summary>
    Reml,
}

/// <summary>Values of several groups as one, with what they say about differences between groups.</summary>
public sealed record PooledEffect
{
    /// <summary>The pooled value.</summary>
    public required double Value { get; init; }

    /// <summary>Its standard error, 1/√Σw.</summary>
    public required double Error { get; init; }

    /// <summary>Value ± normal quantile × error.</summary>
    public required Bounds Within { get; init; }

    /// <summary>
    /// Hartung and Knapp's interval, on k − 1 degrees of freedom, never narrower than the error above makes it: the better one for few
    /// groups. Null for one group.
    /// </summary>
    public required Bounds? HartungKnapp { get; init; }

    /// <summary>
    /// Where the true value of a further group is expected, on k − 2 degrees of freedom; null below three groups, and when all are taken to
    /// share one value.
    /// </summary>
    public required Bounds? Prediction { get; init; }

    /// <summary>Variance between groups, τ².</summary>
    public required double TauSquared { get; init; }

    /// <summary>Cochran's Q, Σ (y − pooled)²/v with fixed weights.</summary>
    public required double Q { get; init; }

    /// <summary>Groups less one.</summary>
    public required int Degrees { get; init; }

    /// <summary>Chance of a Q this large when all groups share one value; null for one group.</summary>
    public required double? QChance { get; init; }

    /// <summary>Share of the variation that is not chance, 0 to 1; null for one group.</summary>
    public required double? ISquared { get; init; }
}

/// <summary>Pools values of several groups.</summary>
public static class RandomEffects
{
    /// <summary>Where the methods come from.</summary>
    public const string Source = "DerSimonian R, Laird N. Control Clin Trials 1986;7:177-188; Paule RC, Mandel J. "
        + "J Res Natl Bur Stand 1982;87:377-385; Viechtbauer W. J Educ Behav Stat 2005;30:261-293 (REML); "
        + "Higgins JPT, Thompson SG. Stat Med 2002;21:1539-1558 (I²); Knapp G, Hartung J. Stat Med 2003;22:2693-2710; Higgins JPT et al. "
        + "J R Stat Soc A 2009;172:137-159 (prediction)";

    /// <summary>
    /// The mean with weights w = 1/(v + τ²). τ² by: DerSimonian-Laird max(0, (Q − (k−1))/(Σw₀ − Σw₀²/Σw₀)), w₀ = 1/v; Paule-Mandel,
    /// Σ w (y − pooled)² = k − 1; REML, Σ w² (y − pooled)² = Σw − Σw²/Σw. I² = τ²/(τ² + v̄), v̄ = (k−1) Σw₀/((Σw₀)² − Σw₀²); for none,
    /// max(0, (Q − (k−1))/Q).
    /// </summary>
    /// <param name="effects">One value with its sampling variance a group, at least one group.</param>
    /// <param name="between">REML unless said otherwise.</param>
    /// <param name="level">Level of the intervals, above 0 and below 1.</param>
    /// <remarks>
    /// Assumes independent groups, known sampling variances and normal true values. With fewer than about five groups τ² is nearly unknown,
    /// whatever the estimate says. Where groups differ much, the mean describes none of them: read the prediction interval. One group is
    /// that group. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">No group, a value that is not finite, a variance not above 0, or a level out of
    /// range.</exception>
    public static PooledEffect Pool(ImmutableArray<Effect> effects, BetweenVariance between = BetweenVariance.Reml, double level = 0.95)
    {
        Requires.Level(level);
        ArgumentOutOfRangeException.ThrowIfZero(effects.Length, nameof(effects));
        foreach (var effect in effects)
            if (!(effect.Variance > 0 && double.IsFinite(effect.Variance) && double.IsFinite(effect.Value)))
                throw new ArgumentOutOfRangeException(nameof(effects), effect, "a value is finite and its variance above 0");
        var degrees = effects.Length - 1;
        var fixedSums = At(effects, 0);
        var tau = degrees == 0 ? 0 : TauSquared(effects, between, fixedSums);
        var sums = At(effects, tau);
        var error = Math.Sqrt(1 / sums.Weights);
        var half = Normal.TwoSided(level) * error;
        Bounds? hartungKnapp = null, prediction = null;
        if (degrees > 0)
        {
            var wide = BetaQuantiles.StudentTwoSided(level, degrees) * error * Math.Sqrt(Math.Max(1, sums.Q / degrees));
            hartungKnapp = new(sums.Mean - wide, sums.Mean + wide);
        }
        if (degrees > 1 && between != BetweenVariance.None)
        {
            var wide = BetaQuantiles.StudentTwoSided(level, degrees - 1) * Math.Sqrt(tau + (error * error));
            prediction = new(sums.Mean - wide, sums.Mean + wide);
        }
        return new()
        {
            Value = sums.Mean,
            Error = error,
            Within = new(sums.Mean - half, sums.Mean + half),
            HartungKnapp = hartungKnapp,
            Prediction = prediction,
            TauSquared = tau,
            Q = fixedSums.Q,
            Degrees = degrees,
            QChance = degrees == 0 ? null : SpecialFunctions.GammaUpperRegularized(degrees / 2.0, fixedSums.Q / 2),
            ISquared = degrees == 0 ? null
                : between == BetweenVariance.None ? (fixedSums.Q > 0 ? Math.Max(0, (fixedSums.Q - degrees) / fixedSums.Q) : 0)
                : tau / (tau + (degrees / fixedSums.Free)),
        };
    }

    /// <summary>
    /// Mean, Σw, Q and Σw − Σw²/Σw at this variance between groups; with the derivative of the restricted likelihood, doubled.
    /// </summary>
    private static (double Mean, double Weights, double Q, double Free, double RemlScore) At(ImmutableArray<Effect> effects, double tau)
    {
        double weights = 0, squares = 0, mean = 0, q = 0, steep = 0;
        foreach (var (value, variance) in effects)
        {
            var weight = 1 / (variance + tau);
            weights += weight;
            squares += weight * weight;
            mean += weight * value;
        }
        mean /= weights;
        foreach (var (value, variance) in effects)
        {
            var weight = 1 / (variance + tau);
            q += weight * (value - mean) * (value - mean);
            steep += weight * weight * (value - mean) * (value - mean);
        }
        var free = weights - (squares / weights);
        return (mean, weights, q, free, steep - free);
    }

    private static double TauSquared(ImmutableArray<Effect> effects, BetweenVariance between,
        (double Mean, double Weights, double Q, double Free, double RemlScore) none)
    {
        var degrees = effects.Length - 1;
        return between switch
        {
            BetweenVariance.None => 0,
            BetweenVariance.DerSimonianLaird => Math.Max(0, (none.Q - degrees) / none.Free),
            BetweenVariance.PauleMandel => Root(tau => At(effects, tau).Q - degrees),
            BetweenVariance.Reml => Root(tau => At(effects, tau).RemlScore),
            _ => throw new ArgumentOutOfRangeException(nameof(between), between, "no such estimator"),
        };

        // Both functions fall through 0 once at most in practice; where they start below it, the estimate is 0.
        double Root(Func<double, double> function)
        {
            if (function(0) <= 0)
                return 0;
            var high = effects.Max(effect => effect.Variance);
            while (function(high) > 0)
                high *= 2;
            var low = high;
            while (function(low) <= 0)
                low /= 2;
            // By the part of the way from low to its double: both ends are then met to the bit, where a logarithm may round past a root.
            return low * (1 + Brent.FindRoot(part => function(low * (1 + part)), 0, 1, 1e-15, 200));
        }
    }
}
