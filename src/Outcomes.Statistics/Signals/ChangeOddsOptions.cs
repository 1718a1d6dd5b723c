using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>How much evidence a change signal asks for. Chosen before looking, and kept.</summary>
public enum Pace
{
    /// <summary>
    /// At most 10 % of stable departments see any false signal on all measures within the horizon, also where months vary with ρ up to .02.
    /// </summary>
    Default,

    /// <summary>At most 5 %; a change is noticed later.</summary>
    Strict,

    /// <summary>At most 20 %; a change is noticed sooner.</summary>
    Faster,

    /// <summary>At most 10 % with a proof, for any volume and history, where months vary no more than the prior says; far slower.</summary>
    Proof,
}

/// <summary>Which way a measure gets better.</summary>
public enum Better
{
    /// <summary>More is better, such as first-pass success.</summary>
    Up,

    /// <summary>Less is better, such as low oxygen saturation.</summary>
    Down,
}

/// <summary>
/// The constants of <see cref="ChangeOdds"/>. The defaults are those that were studied; others have no known false-alarm rate.
/// </summary>
public sealed record ChangeOddsOptions
{
    /// <summary>How careful the limit is.</summary>
    public Pace Pace { get; init; } = Pace.Default;

    /// <summary>The changes looked for, as odds ratios above 1, equally weighted, up and down.</summary>
    public ImmutableArray<double> OddsRatios { get; init; } = [1.8];

    /// <summary>Share of the budget for a change for the worse, 0 to 1; the rest is for the better.</summary>
    public double WorseWeight { get; init; } = 2.0 / 3;

    /// <summary>How much months may vary by themselves, as intraclass correlations ρ above 0 and below 1.</summary>
    public ImmutableArray<double> Variations { get; init; } = [1e-5, 0.01, 0.03, 0.08];

    /// <summary>Prior weight of each of <see cref="Variations"/>.</summary>
    public ImmutableArray<double> VariationWeights { get; init; } = [0.35, 0.30, 0.20, 0.15];

    /// <summary>A change before the first report counts as much as changes at this many later reports more.</summary>
    public double HeadStart { get; init; } = 12;

    /// <summary>Reports that share the budget; then the history is renewed.</summary>
    public int Horizon { get; init; } = 36;

    /// <summary>Baseline rates in the grid.</summary>
    public int GridPoints { get; init; } = 9;

    /// <summary>The grid reaches this many standard errors to both sides, on the scale of log odds.</summary>
    public double GridReach { get; init; } = 3.2;

    /// <summary>A shorter history is too few to judge.</summary>
    public int LeastHistoryMonths { get; init; } = 12;

    /// <summary>Fewer eligible cases in the history are too few to judge.</summary>
    public int LeastHistoryCases { get; init; } = 40;

    /// <summary>Measures that share the budget, at least 1. Every measure that can give a signal counts.</summary>
    public int Measures { get; init; } = 6;

    /// <summary>The fitted limit. Other constants need another curve.</summary>
    public ChangeLimitCurve LimitCurve { get; init; } =
        new(Top: 8.1, Drop: 4.07, Gain: 0.56, Scale: 0.96, Slope: 1, SlopeScale: 0.7) { AddedCases = 20, AddedBad = 2, Lowered = 0.4 };

    /// <summary>
    /// The constants where the search for the defaults started: the side-by-side table in docs/statistics/signals.md has both.
    /// </summary>
    public static ChangeOddsOptions FirstStudied { get; } = new()
    {
        OddsRatios = [1.5, 2, 3],
        HeadStart = 6,
        LimitCurve = new(Top: 7, Drop: 3.4, Gain: 0.85, Scale: 0.37, Slope: 0.95, SlopeScale: 0.4),
    };
}
