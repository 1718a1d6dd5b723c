using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Why a measure has no figures.</summary>
/// <param name="Lacking">Fields that it needs and no source collects; empty where no record was eligible.</param>
public sealed record NoFigures(ImmutableArray<string> Lacking);

/// <summary>What a report says of one measure.</summary>
public sealed record MeasureFigures
{
    public required Measure Measure { get; init; }

    public bool Headline { get; init; }

    /// <summary>Why there are no figures; null when there are.</summary>
    public NoFigures? NotCollected { get; init; }

    /// <summary>Count of the report month.</summary>
    public Count ThisMonth { get; init; }

    /// <summary>Count of the last 12 months.</summary>
    public Count Year { get; init; }

    /// <summary>Where the denominator of the last 12 months comes from; null where that was not asked.</summary>
    public DenominatorFlow? Denominator { get; init; }

    /// <summary>
    /// Estimate of the last 12 months, whose interval allows for months that vary more than chance; null when nothing was eligible.
    /// </summary>
    public Estimate? YearEstimate { get; init; }

    /// <summary>The same with the plain interval; null when nothing was eligible.</summary>
    public Estimate? YearPlain { get; init; }

    /// <summary>How much those months vary, 1 being chance alone; null where there are none to vary.</summary>
    public double? YearDispersion { get; init; }

    /// <summary>
    /// Between what the proportion of the last 12 months lies, whatever the missing records hold; null where none is eligible or missing.
    /// </summary>
    public Bounds? YearBounds { get; init; }

    /// <summary>Missing records whose known parts decide the answer all the same.</summary>
    public long YearDecided { get; init; }

    /// <summary>Whether the interval of <see cref="YearEstimate"/> is wider since months vary.</summary>
    public bool MonthsVary => VaryingMonths.IsWider(YearEstimate);

    /// <summary>One-sided exact 95 % upper bound of the last 12 months, given where met is 0 (and eligible is not).</summary>
    public double? ZeroBound { get; init; }

    /// <summary>The known-only reading of a measure that counts an unknown as not done; null for the others.</summary>
    public (Count Count, Estimate? Estimate)? KnownOnly { get; init; }

    /// <summary>A quantity's report month and last 12 months; null for a proportion or without a value.</summary>
    public QuantitySummary? ThisMonthQuantity { get; init; }

    public QuantitySummary? YearQuantity { get; init; }

    /// <summary>
    /// Eligible records of the 12 months without a value of the quantity, which no summary holds where there is no value at all.
    /// </summary>
    public long YearWithoutValue { get; init; }

    /// <summary>Those of the 12 months whose reading was too low to measure.</summary>
    public long YearUnrecordable { get; init; }

    /// <summary>The counts month by month, from the model's first month to its last.</summary>
    public Series? Series { get; init; }

    /// <summary>
    /// True where fewer than one event, or one case without it, is expected a quarter: a percentage by month or quarter would be a row of
    /// noughts with a spike here and there.
    /// </summary>
    public bool IsTooRareToChart => Series is { } series && Math.Min(series.Counts.Sum(count => count.Met),
        series.Counts.Sum(count => count.Eligible - count.Met)) * 3 < series.Counts.Length;

    /// <summary>A run chart a phase, in order of time; one where no declared change starts a phase, none without a series.</summary>
    public ImmutableArray<RunChart> Phases { get; init; } = [];

    /// <summary>The run chart of the phase that the report month lies in: the one that is tested and put into words.</summary>
    public RunChart? RunChart => Phases.IsDefaultOrEmpty ? null : Phases[^1];

    /// <summary>The points of every phase.</summary>
    public IEnumerable<RunChartPoint> Points => Phases.SelectMany(phase => phase.Points);

    /// <summary>Whether it has changed, under the report's false-alarm budget; null for a measure that is not tested.</summary>
    public MeasureSignal? Signal { get; init; }

    /// <summary>The yearly comparison of a measure whose events are too rare for a monthly test; null for the others.</summary>
    public RareYear? Rare { get; init; }

    /// <summary>The one thing that is said of its change; null for a quantity and without figures.</summary>
    public Verdict? Verdict { get; init; }

    /// <summary>Declared changes that should move this measure, by date.</summary>
    public ImmutableArray<DeclaredChange> Changes { get; init; } = [];

    /// <summary>An interval a point of <see cref="Points"/>, in its order; null where the point is a gap.</summary>
    public ImmutableArray<Bounds?> PointIntervals { get; init; } = [];

    /// <summary>Last 12 months by stratum; see <see cref="StratumFigures.Of"/>.</summary>
    public ImmutableArray<StratumFigures> Strata { get; init; } = [];

    /// <summary>Assumptions of the pipeline that its figures rest on.</summary>
    public ImmutableArray<Assumption> RestsOn { get; init; } = [];
}
