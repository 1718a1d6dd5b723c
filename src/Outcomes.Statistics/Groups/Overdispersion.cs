namespace Outcomes.Statistics;

/// <summary>How much more groups vary than chance alone would have them.</summary>
/// <param name="Phi">Mean square of the winsorised z-scores: about 1, or less, when chance explains all.</param>
/// <param name="TauSquared">Variance between groups on the scale of the values, at least 0.</param>
/// <param name="Lower">Where low z-scores were pulled up to.</param>
/// <param name="Upper">Where high z-scores were pulled down to.</param>
public sealed record Dispersion(double Phi, double TauSquared, double Lower, double Upper);

/// <summary>Estimates overdispersion from z-scores about a target.</summary>
public static class Overdispersion
{
    /// <summary>Where the method comes from.</summary>
    public const string Source = "Spiegelhalter DJ. Stat Med 2005;24:1185-1202; Spiegelhalter DJ. Qual Saf Health Care 2005;14:347-351";

    /// <summary>
    /// φ = Σ z_w² / I with the z-scores of I groups winsorised: those below the q quantile are set to it, those above the 1−q quantile
    /// likewise (type 7). τ² = max(0, (I φ − (I − 1)) / (Σw − Σw²/Σw)) with weights w = 1/s², s being the standard error of each group at
    /// the target.
    /// </summary>
    /// <param name="z">(value − target)/s of each group; at least 2.</param>
    /// <param name="errors">s of each group, above 0, in the same order.</param>
    /// <param name="winsorise">q, at least 0 and below ½; 0.1 is usual, 0 leaves the scores as they are.</param>
    /// <remarks>
    /// Winsorising keeps a few truly different groups from widening everybody's limits. With fewer than about ten groups φ is itself mostly
    /// chance. The type of quantile changes φ, so it is fixed here. Source: <see cref="Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Too few scores, a list of another length, or q out of range.</exception>
    public static Dispersion Estimate(ReadOnlySpan<double> z, ReadOnlySpan<double> errors, double winsorise = 0.1)
    {
        if (z.Length < 2)
            throw new ArgumentOutOfRangeException(nameof(z), z.Length, "at least two groups are needed");
        if (errors.Length != z.Length)
            throw new ArgumentOutOfRangeException(nameof(errors), errors.Length,
                $"there are {z.Length} scores, and as many standard errors are needed");
        if (!(winsorise is >= 0 and < 0.5))
            throw new ArgumentOutOfRangeException(nameof(winsorise), winsorise, "the share to winsorise is at least 0 and below one half");
        double[] sorted = [.. z];
        Array.Sort(sorted);
        var (lower, upper) = (OfSorted(sorted, winsorise), OfSorted(sorted, 1 - winsorise));
        double squares = 0, weights = 0, weightSquares = 0;
        for (var i = 0; i < z.Length; i++)
        {
            squares += Math.Pow(Math.Clamp(z[i], lower, upper), 2);
            var weight = 1 / (errors[i] * errors[i]);
            weights += weight;
            weightSquares += weight * weight;
        }
        var excess = squares - (z.Length - 1);
        return new(squares / z.Length, Math.Max(0, excess / (weights - (weightSquares / weights))), lower, upper);
    }

    /// <summary>
    /// The sample quantile at 1 + (n − 1) p, linear between neighbours: type 7 of Hyndman and Fan (Am Stat 1996;50:361-365).
    /// </summary>
    private static double OfSorted(ReadOnlySpan<double> sorted, double p)
    {
        var place = (sorted.Length - 1) * p;
        var below = (int)Math.Floor(place);
        return below + 1 < sorted.Length ? sorted[below] + ((place - below) * (sorted[below + 1] - sorted[below])) : sorted[^1];
    }
}
