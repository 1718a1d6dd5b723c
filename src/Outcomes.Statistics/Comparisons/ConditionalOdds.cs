namespace Outcomes.Statistics;

/// <summary>The odds ratio given the margins of the table: exact in small groups.</summary>
public static class ConditionalOdds
{
    public const string ExactMethod = "odds_ratio_exact";

    public const string ExactSource = "Cornfield J. Proc Third Berkeley Symp 1956;4:135-148 (exact conditional limits)";

    public const string MidPMethod = "odds_ratio_mid_p";

    public const string MidPSource = "Mehta CR, Walsh SJ. Am Stat 1992;46:146-150 (citation from memory); Fagerland MW, Lydersen S, "
        + "Laake P. Statistical Analysis of Contingency Tables. 2017, ch. 4";

    /// <summary>
    /// With the margins of the table given, the number met in the first group follows Fisher's noncentral hypergeometric distribution
    /// with the odds ratio θ: the value is the likeliest θ, the ends leave α/2 of probability at or beyond what was seen.
    /// </summary>
    /// <returns>A ratio from 0 to infinity; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups of independent records. It never covers less than its level. The likeliest value given the margins is
    /// nearer 1 than ad/bc. Edges: an empty cell gives 0 or infinity; where the margins leave one table only, the value is NaN and the
    /// interval 0 to infinity. Source: <see cref="ExactSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range, or a group above a million records.</exception>
    public static RatioEstimate? Exact(Count first, Count second, double level = 0.95) =>
        Estimate(first, second, level, 1, ExactMethod, ExactSource);

    /// <summary>The same, counting only half of the probability of what was seen: covers its level about on average.</summary>
    /// <inheritdoc cref="Exact" path="/returns"/>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range, or a group above a million records.</exception>
    public static RatioEstimate? Mid(Count first, Count second, double level = 0.95) =>
        Estimate(first, second, level, 0.5, MidPMethod, MidPSource);

    private static RatioEstimate? Estimate(Count first, Count second, double level, double weight, string method, string source)
    {
        Requires.Level(level);
        if (!OddsRatio.Judged(first, second))
            return null;
        var table = new TwoByTwo(first, second);
        if (table.Least == table.Greatest)
            return new(double.NaN, 0, double.PositiveInfinity, level, method, source);
        var tail = (1 - level) / 2;
        var start = Math.Log(OddsRatio.Value(first, second, 0.5));
        var none = first.Met == table.Least;
        var all = first.Met == table.Greatest;
        var value = none ? 0 : all ? double.PositiveInfinity : Math.Exp(LogOdds.Find(t => table.MeanMinusSeen(t), start));
        return new(
            value,
            none ? 0 : Math.Exp(LogOdds.Find(t => LogOdds.Log(table.AtLeast(t, weight), tail), start)),
            all ? double.PositiveInfinity : Math.Exp(LogOdds.Find(t => LogOdds.Log(table.AtMost(t, weight), tail), start)),
            level, method, source);
    }
}
