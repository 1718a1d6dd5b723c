namespace Outcomes.Statistics;

/// <summary>How a series becomes the points of a run chart. The defaults are the house rules.</summary>
public sealed record RunChartOptions
{
    /// <summary>0-based month where the baseline starts.</summary>
    public int BaselineFrom { get; init; }

    /// <summary>
    /// Months in the baseline, cut to the series: <see cref="int.MaxValue"/> is the whole of it from the start of the baseline.
    /// </summary>
    public int BaselineMonths { get; init; } = 12;

    /// <summary>With a median of eligible cases a point below this a chart is not tested, and drawn by quarter.</summary>
    public double MinimumEligible { get; init; } = 10;

    /// <summary>Months or quarters whatever the number of cases; null lets <see cref="MinimumEligible"/> decide.</summary>
    public PointSpan? Span { get; init; }

    /// <summary>
    /// Source of uniform numbers, 0 ≤ u &lt; 1, for the chance of a false signal at the actual denominators. Null: fair coins always.
    /// It is used only where <see cref="RunCharts.FairCoinHolds"/> says that fair coins are wrong.
    /// </summary>
    public Func<double>? Uniform { get; init; }

    /// <summary>
    /// How many charts are simulated for that chance: its standard error is at most 1/(2√replicates), 1.1 points for 2,000.
    /// </summary>
    public int Replicates { get; init; } = 2_000;
}
