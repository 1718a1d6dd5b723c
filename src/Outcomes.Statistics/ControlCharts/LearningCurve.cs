using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>A sequence of one learner's results with the sums that two published schemes keep.</summary>
/// <param name="Failure">What a failure adds, 1 − s.</param>
/// <param name="Success">What a success adds, −s.</param>
/// <param name="Lower">−h₀: at or below it, the acceptable rate is taken as shown.</param>
/// <param name="Upper">h₁: at or above it, the unacceptable rate is taken as shown.</param>
/// <param name="Sums">The sum after each case, from 0; never reset.</param>
/// <param name="AcceptableAt">0-based case where the sum first reaches the lower limit, before the upper; null if it does not.</param>
/// <param name="UnacceptableAt">0-based case where it first reaches the upper limit, before the lower; null if it does not.</param>
public sealed record LearningCurveSums(
    double Failure, double Success, double Lower, double Upper, ImmutableArray<double> Sums, int? AcceptableAt, int? UnacceptableAt);

/// <summary>Cumulative sums for a learner's own numbers.</summary>
/// <remarks>
/// For the learner who asks, about their own cases, with a supervisor: nothing else in this library takes a sequence of one person's
/// results, and no report shows one. Cases differ in difficulty, which these sums ignore.
/// </remarks>
public static class LearningCurve
{
    /// <summary>Where the two-sided sum comes from.</summary>
    public const string Source =
        "Bolsin S, Colson M. Int J Qual Health Care 2000;12:433-438; de Oliveira Filho GR. Anesth Analg 2002;95:411-416 (from memory)";

    /// <summary>Where the score for shown competence comes from.</summary>
    public const string CompetenceSource = "Biau DJ et al. Qual Saf Health Care 2008;17:203-207 (from memory)";

    /// <summary>
    /// The sum of a sequential probability ratio test: with P = ln(p₁/p₀), Q = ln((1−p₀)/(1−p₁)), s = Q/(P+Q), a failure adds 1 − s and a
    /// success −s; h₀ = ln((1−α)/β)/(P+Q), h₁ = ln((1−β)/α)/(P+Q).
    /// </summary>
    /// <param name="failures">True for a failure, in the order of the cases.</param>
    /// <param name="acceptable">p₀, the acceptable failure rate, above 0.</param>
    /// <param name="unacceptable">p₁, above p₀ and below 1.</param>
    /// <param name="alpha">Chance of calling an acceptable rate unacceptable, above 0 and below ½.</param>
    /// <param name="beta">Chance of calling an unacceptable rate acceptable, above 0 and below ½.</param>
    /// <remarks>
    /// Assumes independent cases at one unchanging rate, which learning contradicts: a late run of successes has to undo early failures.
    /// Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A rate or chance is out of range.</exception>
    public static LearningCurveSums Follow(
        ReadOnlySpan<bool> failures, double acceptable, double unacceptable, double alpha = 0.1, double beta = 0.1)
    {
        CheckRates(acceptable, unacceptable);
        if (!(alpha is > 0 and < 0.5))
            throw new ArgumentOutOfRangeException(nameof(alpha), alpha, "the chance lies above 0 and below one half");
        if (!(beta is > 0 and < 0.5))
            throw new ArgumentOutOfRangeException(nameof(beta), beta, "the chance lies above 0 and below one half");
        var fail = Math.Log(unacceptable / acceptable);
        var succeed = Math.Log((1 - acceptable) / (1 - unacceptable));
        var s = succeed / (fail + succeed);
        var lower = -Math.Log((1 - alpha) / beta) / (fail + succeed);
        var upper = Math.Log((1 - beta) / alpha) / (fail + succeed);
        var sums = ImmutableArray.CreateBuilder<double>(failures.Length);
        var sum = 0.0;
        int? good = null, bad = null;
        for (var i = 0; i < failures.Length; i++)
        {
            sums.Add(sum += failures[i] ? 1 - s : -s);
            if (good is null && bad is null)
                (good, bad) = (sum <= lower ? i : null, sum >= upper ? i : null);
        }
        return new(1 - s, -s, lower, upper, sums.MoveToImmutable(), good, bad);
    }

    /// <summary>
    /// The score for shown competence, S = max(0, S + W) from 0, where a success adds W = ln((1−p_A)/(1−p_U)) and a failure ln(p_A/p_U): it
    /// climbs while the acceptable rate p_A explains the cases better than the unacceptable p_U.
    /// </summary>
    /// <returns>S after each case. The limit that it must reach is chosen by simulation beforehand; none is built in.</returns>
    /// <remarks>Source: <see cref="CompetenceSource"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A rate is out of range.</exception>
    public static ImmutableArray<double> Competence(ReadOnlySpan<bool> failures, double acceptable, double unacceptable)
    {
        CheckRates(acceptable, unacceptable);
        var scores = ImmutableArray.CreateBuilder<double>(failures.Length);
        var score = 0.0;
        foreach (var failure in failures)
            scores.Add(score =
                Math.Max(0, score + (failure ? Math.Log(acceptable / unacceptable) : Math.Log((1 - acceptable) / (1 - unacceptable)))));
        return scores.MoveToImmutable();
    }

    private static void CheckRates(double acceptable, double unacceptable)
    {
        if (!(acceptable is > 0 and < 1))
            throw new ArgumentOutOfRangeException(nameof(acceptable), acceptable, "a failure rate lies above 0 and below 1");
        if (!(unacceptable > acceptable && unacceptable < 1))
            throw new ArgumentOutOfRangeException(nameof(unacceptable), unacceptable,
                $"the unacceptable rate lies above the acceptable one, {acceptable}, and below 1");
    }
}
