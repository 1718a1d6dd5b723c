using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>How unusual a number of runs is.</summary>
/// <param name="Expected">Mean number of runs in random order.</param>
/// <param name="Deviation">Its standard deviation.</param>
/// <param name="Z">Distance from the mean, half a run nearer, in standard deviations; 0 within half a run.</param>
/// <param name="AtMost">Exact chance of so few runs or fewer.</param>
/// <param name="AtLeast">Exact chance of so many runs or more.</param>
public sealed record RunsResult(double Expected, double Deviation, double Z, double AtMost, double AtLeast);

/// <summary>The number of runs of two kinds of points in a row, given how many there are of each (Wald and Wolfowitz).</summary>
/// <remarks>
/// With n₁ and n₂ points in random order, P(2k runs) = 2 C(n₁−1, k−1) C(n₂−1, k−1) / C(n₁+n₂, n₁) and P(2k+1) is the same with
/// C(n₁−1, k) C(n₂−1, k−1) + C(n₁−1, k−1) C(n₂−1, k) above. Mean 1 + 2n₁n₂/n; variance 2n₁n₂(2n₁n₂ − n)/(n²(n − 1)).
/// A run chart's crossings are its runs less one: <see cref="LongestRunAndCrossings"/> does not take the number on each side as given.
/// Source: <see cref="Source"/>.
/// </remarks>
public static class NumberOfRuns
{
    public const string Source =
        "Wald A, Wolfowitz J. Ann Math Stat 1940;11:147-162; tables: Swed FS, Eisenhart C. Ann Math Stat 1943;14:66-87";

    public const int MostPoints = 100_000;

    /// <summary>The test from counts.</summary>
    /// <param name="first">Points of one kind, at least 1.</param>
    /// <param name="second">Points of the other, at least 1; 100,000 of both at most.</param>
    /// <param name="runs">Runs seen (stretches of points of one kind), 2 up to the most there can be.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of range.</exception>
    public static RunsResult Test(int first, int second, int runs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(first, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(second, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(first, MostPoints - second);
        var most = Most(first, second);
        if (runs < 2 || runs > most)
            throw new ArgumentOutOfRangeException(nameof(runs), runs, $"{first} and {second} points make 2 to {most} runs");
        double n = first + second, pairs = 2.0 * first * second;
        var (expected, deviation) = (1 + (pairs / n), Math.Sqrt(pairs * (pairs - n) / (n * n * (n - 1))));
        var far = Math.Max(0, Math.Abs(runs - expected) - 0.5);
        var z = far == 0 ? 0 : Math.Sign(runs - expected) * far / deviation;
        return new(expected, deviation, z, Sum(2, runs), Sum(runs, most));

        double Sum(int from, int to)
        {
            var sum = 0.0;
            for (var r = from; r <= to; r++)
                sum += Chance(first, second, r);
            return Math.Min(1, sum);
        }
    }

    /// <summary>P(runs) with the numbers of both kinds given; 0 outside 2 to the most there can be.</summary>
    public static double Chance(int first, int second, int runs)
    {
        var (k, odd) = (runs / 2, runs % 2 == 1);
        if (runs < 2 || runs > Most(first, second))
            return 0;
        var all = SpecialFunctions.BinomialLn(first + second, first);
        return odd
            ? Ways(first, k + 1, second, k) + Ways(first, k, second, k + 1)
            : 2 * Ways(first, k, second, k);

        // So many runs of each kind: compositions of n into k parts, C(n − 1, k − 1).
        double Ways(int n1, int k1, int n2, int k2) =>
            k1 > n1 || k2 > n2
                ? 0
                : Math.Exp(SpecialFunctions.BinomialLn(n1 - 1, k1 - 1) + SpecialFunctions.BinomialLn(n2 - 1, k2 - 1) - all);
    }

    /// <summary>The most runs there can be: one more of the commoner kind than of the other, when there is one.</summary>
    public static int Most(int first, int second) => (2 * Math.Min(first, second)) + (first == second ? 0 : 1);
}
