using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>
/// What a month says of every level and variation. <see cref="CountLikelihood"/> knows counts alone, <see cref="MixLikelihood"/> the
/// expected chance of each case.
/// </summary>
internal interface ILevelLikelihood
{
    /// <summary>Prior weight of each level, not normalised: Jeffreys' prior on the scale of log odds.</summary>
    public ReadOnlySpan<double> Prior { get; }

    /// <summary>The event rate at each level: that of the history's cases where the case mix is known.</summary>
    public ReadOnlySpan<double> Rates { get; }

    /// <summary>Log odds of that rate at the edges between levels, one more than there are levels.</summary>
    public ReadOnlySpan<double> Edges { get; }

    /// <summary>The probability of a month, the largest of all states set to 1. Not to be written to.</summary>
    /// <param name="month">A month with the same case mix, 0-based, history first.</param>
    /// <param name="count">Its events and cases; none: 1 everywhere.</param>
    public Vector256<double>[] Find(int month, EventCount count);

    /// <summary>The mean chance of the cases of a month at a level.</summary>
    public double Mean(int month, int level);
}
