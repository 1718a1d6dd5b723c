namespace Outcomes.Statistics;

/// <summary>The log odds that a chance of <see cref="MonthlyTest"/> must reach, fixed when the history closes.</summary>
/// <param name="Worse">For a change for the worse.</param>
/// <param name="Better">For a change for the better.</param>
/// <param name="EarlyLogOdds">What ln S of the early leg must reach; null where there is none.</param>
public sealed record MonthlyLimits(double Worse, double Better, double? EarlyLogOdds)
{
    /// <summary>The limit for worse as a chance, 0 to 1.</summary>
    public double WorseChance => LogOdds.Proportion(Worse);

    /// <summary>The limit for better as a chance, 0 to 1.</summary>
    public double BetterChance => LogOdds.Proportion(Better);
}

/// <summary>The limits from a department's own history.</summary>
public static class MonthlyLimit
{
    /// <summary>
    /// min(most, 2.2 + slope ln max(0.2, μ⁺) − short max(0, 1 − μ⁺/4) max(0, 24 − H)/12) + 0.52 ln(0.0174/α), with μ⁺ = n/H p⁺(1 − p⁺), p⁺
    /// the upper estimate of the event rate that <see cref="ChangeLimit"/> takes, H months of history and α the share of the budget that
    /// one measure may spend.
    /// </summary>
    /// <param name="history">Events and cases of the history, at least one case.</param>
    /// <param name="months">Months of history, at least 1; fitted for 12 and 24.</param>
    /// <param name="options">Pace, measures and curve.</param>
    /// <exception cref="ArgumentOutOfRangeException">A count or the pace is out of range.</exception>
    public static MonthlyLimits Find(EventCount history, int months, MonthlyTestOptions options)
    {
        Requires.Counts(history.Events, history.Cases);
        ArgumentOutOfRangeException.ThrowIfLessThan(months, 1);
        if (options.Pace == Pace.Proof)
            throw new ArgumentOutOfRangeException(nameof(options), options.Pace, "the monthly test has no proved limit");
        var (curve, odds) = (options.LimitCurve, options.ChangeOdds);
        var upper = ChangeLimit.Upper(
            history.Events + odds.LimitCurve.AddedBad, history.Cases + odds.LimitCurve.AddedCases);
        var mu = (double)history.Cases / months * upper * (1 - upper);
        var worse = Math.Min(curve.Most, curve.AtOne + (curve.Slope * Math.Log(Math.Max(0.2, mu)))
            - (curve.ShortHistory * Math.Max(0, 1 - (mu / 4)) * Math.Max(0, 24 - months) / 12))
            + (curve.BudgetSlope * Math.Log(ChangeLimit.Fitted / ChangeLimit.Budget(odds)));
        return new(worse, worse - curve.BetterLower, options.EarlyLeg is { } early
            ? ChangeLimit.OfHistory(history.Events, history.Cases, months, odds) - early.Lower
            : null);
    }
}
