using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>What the statistics work out cleverly, in the plainest way there is.</summary>
internal static class BruteForce
{
    /// <summary>From the text of the sides, cut where they change.</summary>
    public static (int Longest, int Crossings) LongestAndCrossings(IReadOnlyList<int> sides)
    {
        var text = string.Concat(sides.Select(side => side > 0 ? '+' : '-'));
        var runs = text.Replace("+-", "+ -", StringComparison.Ordinal).Replace("-+", "- +", StringComparison.Ordinal)
            .Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return runs.Length == 0 ? (0, 0) : (runs.Max(run => run.Length), runs.Length - 1);
    }

    /// <summary>
    /// The logarithm of the beta-binomial likelihood of counts but for a factor without mean and spread (Griffiths 1973), term by term.
    /// </summary>
    public static double LogLikelihood(IEnumerable<Count> counts, double mean, double spread)
    {
        var sum = 0.0;
        foreach (var count in counts)
        {
            for (var j = 0; j < count.Met; j++)
                sum += Math.Log(mean + (j * spread));
            for (var j = 0; j < count.Eligible - count.Met; j++)
                sum += Math.Log(1 - mean + (j * spread));
            for (var j = 0; j < count.Eligible; j++)
                sum -= Math.Log(1 + (j * spread));
        }
        return sum;
    }
}
