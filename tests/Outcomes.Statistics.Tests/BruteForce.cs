namespace Outcomes.Tests;

/// <summary>Longest run and crossings in another way than the statistics have them: from the text of the sides, cut where they change.</summary>
internal static class BruteForce
{
    public static (int Longest, int Crossings) LongestAndCrossings(IReadOnlyList<int> sides)
    {
        var text = string.Concat(sides.Select(side => side > 0 ? '+' : '-'));
        var runs = text.Replace("+-", "+ -", StringComparison.Ordinal).Replace("-+", "- +", StringComparison.Ordinal).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return runs.Length == 0 ? (0, 0) : (runs.Max(run => run.Length), runs.Length - 1);
    }
}
