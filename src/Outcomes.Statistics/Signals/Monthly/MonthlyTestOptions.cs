namespace Outcomes.Statistics;

/// <summary>
/// The constants of <see cref="MonthlyTest"/>. The two sets <see cref="Joint"/> and <see cref="FilterAlone"/> were studied
/// (docs/statistics/monthly-test.md); others have no known false-alarm rate.
/// </summary>
public sealed record MonthlyTestOptions
{
    /// <summary>How careful the limit is. <see cref="Pace.Proof"/> belongs to <see cref="ChangeOdds"/> and is refused here.</summary>
    public Pace Pace { get; init; } = Pace.Default;

    /// <summary>Measures that share the budget, at least 1. Every measure that can give a signal counts.</summary>
    public int Measures { get; init; } = 6;

    /// <summary>Chance that the level changes in a month of the history.</summary>
    public double HistoryHazard { get; init; } = 1.0 / 240;

    /// <summary>The same between the history and the first report.</summary>
    public double FirstHazard { get; init; } = 1.0 / 5;

    /// <summary>The same before every later report.</summary>
    public double LaterHazard { get; init; } = 1.0 / 48;

    /// <summary>Share of the changes after the history that are for the worse; half in the history.</summary>
    public double WorseShare { get; init; } = 2.0 / 3;

    /// <summary>A change is by 0.3 + 0.1 j log odds with a chance of (1 − ratio) · ratioʲ: this is the ratio.</summary>
    public double JumpRatio { get; init; } = 0.70;

    /// <summary>The fitted limit. Other constants need another curve.</summary>
    public MonthlyLimitCurve LimitCurve { get; init; } = new(Most: 3.25, Slope: 0.55, ShortHistory: 0.15, BetterLower: 0.45);

    /// <summary>The second leg for changes in the first reports; null: the filter alone.</summary>
    public EarlyLegOptions? EarlyLeg { get; init; } = new();

    /// <summary>
    /// How much lower the limits are, in log odds, once a first signal was given: what was stable is not stable any more, and a relapse
    /// matters more than a second false signal.
    /// </summary>
    public double LowerAfterSignal { get; init; }

    /// <summary>A shorter history is too few to judge.</summary>
    public int LeastHistoryMonths { get; init; } = 12;

    /// <summary>Fewer cases in the history are too few to judge.</summary>
    public int LeastHistoryCases { get; init; } = 40;

    /// <summary>Filter and early leg, with limits fitted to both together.</summary>
    public static MonthlyTestOptions Joint { get; } = new();

    /// <summary>The filter alone: larger jumps, one limit for worse and better.</summary>
    public static MonthlyTestOptions FilterAlone { get; } = new()
    {
        JumpRatio = 0.75,
        LimitCurve = new(Most: 3.15, Slope: 0.43, ShortHistory: 0, BetterLower: 0),
        EarlyLeg = null,
    };

    /// <summary>The constants of the change odds that the early leg asks: as shipped, with this budget.</summary>
    internal ChangeOddsOptions ChangeOdds => new() { Pace = Pace, Measures = Measures };
}

/// <summary>The fitted numbers of the limit: see <see cref="MonthlyLimit"/>.</summary>
/// <param name="Most">The largest limit of the default budget, in log odds.</param>
/// <param name="Slope">How much it rises for each e-fold of events a month.</param>
/// <param name="ShortHistory">How much lower it is for a small unit with 12 months of history.</param>
/// <param name="BetterLower">How much lower the limit of a change for the better is.</param>
public sealed record MonthlyLimitCurve(double Most, double Slope, double ShortHistory, double BetterLower)
{
    /// <summary>The limit, in log odds, where one event a month is expected.</summary>
    public double AtOne { get; init; } = 2.2;

    /// <summary>How much the limit falls for each e-fold of budget.</summary>
    public double BudgetSlope { get; init; } = 0.52;
}

/// <summary>
/// When <see cref="ChangeOdds"/> may give the first signal beside the filter: it is surer of changes in the first reports, since it takes
/// the history as unchanged.
/// </summary>
public sealed record EarlyLegOptions
{
    /// <summary>Reports in which it may signal a change for the worse.</summary>
    public int WorseReports { get; init; } = 12;

    /// <summary>Reports in which it may signal a change for the better.</summary>
    public int BetterReports { get; init; } = 18;

    /// <summary>How far below its own limit it signals.</summary>
    public double Lower { get; init; } = 0.10;

    /// <summary>It takes part only if the filter gives the history at least this chance of having held no change.</summary>
    public double LeastUnchanged { get; init; } = 0.85;
}
