using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>
/// The states of the level filter: 61 levels, 0.1 log odds apart, each with four month-to-month variations that fill one vector.
/// </summary>
internal static class LevelGrid
{
    public const int Levels = 61;

    /// <summary>Log odds between two levels.</summary>
    public const double Step = 0.1;

    /// <summary>The lowest level of an event rate, in log odds: 1.0 %. The highest is 1.4: 80 %.</summary>
    public const double LowestRate = -4.6;

    /// <summary>The lowest shift of the log odds of all cases, where their case mix is known. The highest is 3.</summary>
    public const double LowestShift = -3;

    /// <summary>The smallest jump, in levels: odds times 1.35.</summary>
    public const int LeastJump = 3;

    /// <summary>Month-to-month variation: intraclass correlations of the cases of a month.</summary>
    public static Vector256<double> Variations => Vector256.Create(1e-5, 0.01, 0.03, 0.08);

    /// <summary>Their prior weights.</summary>
    public static Vector256<double> VariationWeights => Vector256.Create(0.35, 0.30, 0.20, 0.15);

    /// <summary>One month in fifty may be odd: its variation is <see cref="OddVariation"/>, whatever that of the others.</summary>
    public const double OddShare = 0.02;

    public const double OddVariation = 0.3;

    /// <summary>Where mass goes that jumps up and down from these states; what would leave the grid is dropped.</summary>
    /// <remarks>
    /// The sizes have a geometric tail, so the sum over all of them is a recursion along the levels; both recursions in one loop, as
    /// neither waits for the other.
    /// </remarks>
    // Vector code is not compiled ahead of time, and a first, slow form of these loops would last for most of a report.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Jump(
        ReadOnlySpan<Vector256<double>> from, Span<Vector256<double>> up, Span<Vector256<double>> down, double ratio)
    {
        var (rising, falling) = (Vector256<double>.Zero, Vector256<double>.Zero);
        var (left, rest) = (Vector256.Create(ratio), Vector256.Create(1 - ratio));
        for (var level = 0; level < Levels; level++)
        {
            rising *= left;
            falling *= left;
            if (level >= LeastJump)
            {
                rising += rest * from[level - LeastJump];
                falling += rest * from[Levels - 1 - level + LeastJump];
            }
            up[level] = rising;
            down[Levels - 1 - level] = falling;
        }
    }

    /// <summary>The sum of all states, always in the same order.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double Sum(ReadOnlySpan<Vector256<double>> states)
    {
        var sum = Vector256<double>.Zero;
        foreach (var level in states)
            sum += level;
        return Sum(sum);
    }

    /// <summary>The sum over the variations, always in the same order.</summary>
    public static double Sum(Vector256<double> lanes) => lanes[0] + lanes[1] + (lanes[2] + lanes[3]);

    /// <summary>Chance of a jump before a month, 0-based, and the share of jumps that go up.</summary>
    public static (double Hazard, double Up) Jumps(MonthlyTestOptions options, int month, int history) =>
        month == 0 ? (0, 0.5)
        : month < history ? (options.HistoryHazard, 0.5)
        : (month == history ? options.FirstHazard : options.LaterHazard, options.WorseShare);
}
