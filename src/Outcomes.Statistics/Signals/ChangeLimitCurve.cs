namespace Outcomes.Statistics;

/// <summary>The fitted numbers in <see cref="ChangeLimit"/>. They belong to one set of constants and come from simulation.</summary>
/// <param name="Top">The limit of a measure with very many bad events a month.</param>
/// <param name="Drop">How much lower it lies with very few, after 12 months of history.</param>
/// <param name="Gain">How much of the drop goes with each e-fold of history.</param>
/// <param name="Scale">The μ at which half of the drop is left.</param>
/// <param name="Slope">How much the limit falls for each e-fold of budget, with very many bad events a month.</param>
/// <param name="SlopeScale">The μ at which half of that slope is left.</param>
public sealed record ChangeLimitCurve(double Top, double Drop, double Gain, double Scale, double Slope, double SlopeScale)
{
    /// <summary>
    /// Cases that are added to a history before its upper rate is taken: in a small unit the luck of its history would else decide how many
    /// false alarms follow. Twenty weigh little from ten a month on. Chosen on other seeds than the study's: docs/statistics/signals.md.
    /// </summary>
    public double AddedCases { get; init; }

    /// <summary>How many of them are bad.</summary>
    public double AddedBad { get; init; }

    /// <summary>
    /// How much lower the limit is where the added cases are all there is. Added cases save false alarms; lowering spends them again, on
    /// what is noticed.
    /// </summary>
    public double Lowered { get; init; }
}
