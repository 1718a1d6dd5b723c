using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>
/// The longest run L on one side and the number of crossings C of a sequence of sides that are independent fair coins.
/// </summary>
/// <remarks>
/// A sequence of n sides with C crossings is its first side and a composition of n into C+1 run lengths, so every statement about
/// (C, L) counts compositions. A run of length j has weight 2⁻ʲ and the first side a factor of 2, which keeps everything a
/// probability: only positive terms are added, and each is right to about 1e-13 of itself.
/// Assumes that every point is above or below with probability 1/2, whatever the others are: true for a known median without ties.
/// Source: Wentzel-Larsen T, Anhøj J. PLoS ONE 2019;14:e0223233.
/// </remarks>
public static class LongestRunAndCrossings
{
    public const string Source = "Wentzel-Larsen T, Anhøj J. PLoS ONE 2019;14:e0223233";

    public const string LimitsSource = "Anhøj J, Olesen AV. PLoS ONE 2014;9:e113825";

    /// <summary>The longest run that <paramref name="useful"/> points may show: round(log₂ n + 3). A longer one is a signal.</summary>
    /// <returns>A number of points; 0 for no useful point. Source: <see cref="LimitsSource"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number of points is negative.</exception>
    public static int RunLimit(int useful)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(useful);
        return useful == 0 ? 0 : (int)Math.Round(Math.Log2(useful) + 3);
    }

    /// <summary>
    /// The fewest crossings that <paramref name="useful"/> points may show: the 5 % quantile of a binomial with n−1 trials and
    /// probability 1/2, that is the smallest c with P(C ≤ c) ≥ 0.05. Fewer are a signal.
    /// </summary>
    /// <returns>A number of crossings; 0 for fewer than two useful points. Source: <see cref="LimitsSource"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number of points is negative.</exception>
    public static int CrossingsLimit(int useful)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(useful);
        var trials = Math.Max(useful - 1, 0);
        var crossings = 0;
        for (var sum = Term(0); sum < 0.05; sum += Term(crossings))
            crossings++;
        return crossings;

        double Term(int k) => Math.Exp(SpecialFunctions.BinomialLn(trials, k) - (trials * Math.Log(2)));
    }

    /// <summary>
    /// P(L &gt; <paramref name="runLimit"/> or C &lt; <paramref name="crossingsLimit"/>) for <paramref name="n"/> fair-coin sides.
    /// </summary>
    /// <param name="n">Useful points, at least 0.</param>
    /// <param name="runLimit">A longer run is a signal.</param>
    /// <param name="crossingsLimit">Fewer crossings are a signal.</param>
    /// <returns>A probability; 0 for no points.</returns>
    /// <remarks>Time grows as n² times the run limit: microseconds for a chart.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">The number of points is negative.</exception>
    public static double Chance(int n, int runLimit, int crossingsLimit)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(n);
        if (n == 0)
            return 0;
        var longest = Math.Clamp(runLimit, 0, n);
        // runs[m]: weight of sequences of m sides made of the runs laid so far, none longer than allowed.
        var runs = new double[n + 1];
        runs[0] = 2;
        var within = 0.0;
        for (var laid = 1; laid <= n; laid++)
        {
            var next = new double[n + 1];
            for (var m = laid; m <= n; m++)
            {
                var weight = 0.5;
                for (var length = 1; length <= longest && length <= m; length++, weight /= 2)
                    next[m] += runs[m - length] * weight;
            }
            runs = next;
            if (laid - 1 >= crossingsLimit)
                within += runs[n];
        }
        return Math.Clamp(1 - within, 0, 1);
    }

    /// <summary>The joint distribution of crossings and longest run for <paramref name="n"/> fair-coin sides.</summary>
    /// <param name="n">Useful points, 1 to 200.</param>
    /// <returns>Probabilities at [C, L]: C from 0 to n−1, L from 0 to n (the column L = 0 is empty). They sum to 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number of points is not 1 to 200.</exception>
    public static double[,] Joint(int n)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(n, 200);
        var joint = new double[n, n + 1];
        for (var longest = 1; longest <= n; longest++)
        {
            // shorter[m]: no run as long as longest yet; reached[m]: at least one, none longer.
            double[] shorter = new double[n + 1], reached = new double[n + 1];
            shorter[0] = 2;
            for (var laid = 1; laid <= n - longest + 1; laid++)
            {
                double[] nextShorter = new double[n + 1], nextReached = new double[n + 1];
                for (var m = laid; m <= n; m++)
                {
                    var weight = 0.5;
                    for (var length = 1; length < longest && length <= m; length++, weight /= 2)
                    {
                        nextShorter[m] += shorter[m - length] * weight;
                        nextReached[m] += reached[m - length] * weight;
                    }
                    if (longest <= m)
                        nextReached[m] += (shorter[m - longest] + reached[m - longest]) * weight;
                }
                (shorter, reached) = (nextShorter, nextReached);
                joint[laid - 1, longest] = reached[n];
            }
        }
        return joint;
    }
}
