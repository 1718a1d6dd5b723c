namespace Outcomes.Statistics;

/// <summary>The limit that ln S of <see cref="ChangeOdds"/> must reach: a closed form of the department's own history, fixed when the history closes.</summary>
public static class ChangeLimit
{
    /// <summary>The budget of one measure when six share 10 %: 1 − 0.9^(1/6) = 1.74 %.</summary>
    public const double SixMeasures = 0.017406776;

    /// <summary>Standard errors by which the history's bad rate is raised: a lucky history must not lower the bar.</summary>
    private const double Caution = 1.25;

    /// <summary>
    /// The limit from a history: that of <see cref="AtRate"/> at an upper estimate of the bad rate,
    /// p + 1.25 √(p(1−p)/(n+1)) with p = (x+½)/(n+1), at most ½, plus the extra of the pace.
    /// </summary>
    /// <param name="bad">Bad events in the history.</param>
    /// <param name="eligible">Eligible cases in the history, at least 1.</param>
    /// <param name="months">Months of history, at least 1.</param>
    /// <param name="options">Pace, budget, horizon and head start.</param>
    /// <remarks>
    /// <see cref="Pace.Proof"/> is ln((horizon + head start) / budget): S − t is a martingale when the department's rate is drawn from
    /// the prior, so by Ville's inequality S passes that limit with at most that chance, whatever the volumes.
    /// The other limits are fitted to simulations: see docs/statistics/signals.md.
    /// </remarks>
    public static double OfHistory(long bad, long eligible, int months, ChangeOddsOptions options)
    {
        Requires.Counts(bad, eligible);
        if (options.Pace == Pace.Proof)
            return Math.Log((options.Horizon + options.HeadStart) / options.FalseAlarm);
        var p = (bad + 0.5) / (eligible + 1);
        var upper = Math.Min(0.5, p + (Caution * Math.Sqrt(p * (1 - p) / (eligible + 1))));
        return AtRate((double)eligible / months, upper, months, options.FalseAlarm) + Extra(options.Pace);
    }

    /// <summary>
    /// The fitted limit at a known rate: 7 − (3.4 − 0.85 ln(H/12)) / (1 + μ/0.37) + 0.95 μ/(μ+0.4) ln(0.0174/α) with
    /// μ = volume · rate · (1 − rate), H months of history and α the budget.
    /// </summary>
    /// <param name="volume">Eligible cases a month; below 0.2 taken as 0.2.</param>
    /// <param name="rate">Bad rate, 0 to 1; fitted for 0.03 to 0.30.</param>
    /// <param name="months">Months of history; fitted for 12 to 24.</param>
    /// <param name="falseAlarm">Budget of this measure over the horizon, above 0 and below 1.</param>
    public static double AtRate(double volume, double rate, int months, double falseAlarm)
    {
        var mu = Math.Max(volume, 0.2) * rate * (1 - rate);
        return 7.0 - ((3.4 - (0.85 * Math.Log(months / 12.0))) / (1 + (mu / 0.37))) + (0.95 * mu / (mu + 0.4) * Math.Log(SixMeasures / falseAlarm));
    }

    private static double Extra(Pace pace) => pace switch
    {
        Pace.Faster => 0,
        Pace.Default => 0.35,
        Pace.Strict => 0.7,
        _ => throw new ArgumentOutOfRangeException(nameof(pace), pace, "a pace without a limit"),
    };
}
