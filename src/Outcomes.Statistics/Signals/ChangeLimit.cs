namespace Outcomes.Statistics;

/// <summary>
/// The limit that ln S of <see cref="ChangeOdds"/> must reach: a closed form of the department's own history, fixed when the history
/// closes.
/// </summary>
public static class ChangeLimit
{
    /// <summary>The budget at which the curves were fitted: 1 − 0.9^(1/6), one of six measures that share 10 %.</summary>
    public const double Fitted = 0.017406806147310;

    /// <summary>
    /// Standard errors by which the history's bad rate is raised: a history that was good by chance must not lower the limit.
    /// </summary>
    private const double Caution = 1.25;

    /// <summary>The chance of any false signal on all measures over the horizon that a pace allows.</summary>
    public static double Family(Pace pace) => pace switch
    {
        Pace.Default or Pace.Proof => 0.10,
        Pace.Strict => 0.05,
        Pace.Faster => 0.20,
        _ => throw new ArgumentOutOfRangeException(nameof(pace), pace, "a pace without a budget"),
    };

    /// <summary>The part of it that one measure may spend: 1 − (1 − family)^(1/measures).</summary>
    public static double Budget(ChangeOddsOptions options) => 1 - Math.Pow(1 - Family(options.Pace), 1.0 / options.Measures);

    /// <summary>
    /// The limit from a history: that of <see cref="AtRate"/> at an upper estimate of the bad rate, p + 1.25 √(p(1−p)/(n+1)) with p =
    /// (x+½)/(n+1), at most ½, of the history with the added cases of <see cref="ChangeOddsOptions.LimitCurve"/>, less what the limit is
    /// lowered by for them; <see cref="Pace.Strict"/> is not lowered.
    /// </summary>
    /// <param name="bad">Bad events in the history.</param>
    /// <param name="eligible">Eligible cases in the history, at least 1.</param>
    /// <param name="months">Months of history, at least 1.</param>
    /// <param name="options">Pace, measures, horizon, head start and curve.</param>
    /// <remarks>
    /// <see cref="Pace.Proof"/> is ln((horizon + head start) / budget): S − t is a martingale when the department's rate is drawn from
    /// the prior, so by Ville's inequality S passes that limit with at most that chance, whatever the volumes.
    /// The other limits are fitted to simulations: see docs/statistics/signals.md.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count is out of range.</exception>
    public static double OfHistory(long bad, long eligible, int months, ChangeOddsOptions options)
    {
        Requires.Counts(bad, eligible);
        ArgumentOutOfRangeException.ThrowIfLessThan(months, 1);
        if (options.Pace == Pace.Proof)
            return Math.Log((options.Horizon + options.HeadStart) / Budget(options));
        var curve = options.LimitCurve;
        var lowered = options.Pace == Pace.Strict ? 0 : curve.Lowered * curve.AddedCases / (eligible + curve.AddedCases);
        return AtRate((double)eligible / months, Upper(bad + curve.AddedBad, eligible + curve.AddedCases), months, options) - lowered;
    }

    /// <summary>The upper estimate of a bad rate that the limit takes.</summary>
    internal static double Upper(double bad, double cases)
    {
        var p = (bad + 0.5) / (cases + 1);
        return Math.Min(0.5, p + (Caution * Math.Sqrt(p * (1 - p) / (cases + 1))));
    }
    /// <summary>
    /// The fitted limit at a known rate: top − (drop − gain ln(H/12)) / (1 + μ/scale) + slope · μ/(μ + slope scale) · ln(0.0174/α), with
    /// μ = volume · rate · (1 − rate), H months of history, α from <see cref="Budget"/> and the rest from
    /// <see cref="ChangeOddsOptions.LimitCurve"/>.
    /// </summary>
    /// <param name="volume">Eligible cases a month; below 0.2 taken as 0.2.</param>
    /// <param name="rate">Bad rate, 0 to 1; fitted for 0.05 to 0.30.</param>
    /// <param name="months">Months of history; fitted for 12 and 24.</param>
    /// <param name="options">Pace, measures and curve.</param>
    public static double AtRate(double volume, double rate, int months, ChangeOddsOptions options)
    {
        var curve = options.LimitCurve;
        var mu = Math.Max(volume, 0.2) * rate * (1 - rate);
        return curve.Top - ((curve.Drop - (curve.Gain * Math.Log(months / 12.0))) / (1 + (mu / curve.Scale)))
            + (curve.Slope * mu / (mu + curve.SlopeScale) * Math.Log(Fitted / Budget(options)));
    }
}
