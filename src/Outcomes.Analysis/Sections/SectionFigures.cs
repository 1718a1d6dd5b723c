using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>One measure over a span of months, and the same by strata.</summary>
public sealed record StratifiedMeasure(Measure Measure, Count All, Estimate? Estimate, ImmutableArray<StratumFigures> Strata)
{
    /// <summary>The reading of those that say, where what is not recorded counts as not done; otherwise null.</summary>
    public Count? Known { get; init; }

    /// <summary>Its estimate; null where the measure has none, or no answer is known.</summary>
    public Estimate? KnownEstimate { get; init; }
}

/// <summary>A quantity at one level of a stratum; no summary where too few records have a value.</summary>
public sealed record LevelQuantity(string Level, QuantitySummary? Summary, long N, long Missing)
{
    /// <summary>Records whose reading was too low to measure.</summary>
    public long Unrecordable { get; init; }
}

/// <summary>A quantity by one field.</summary>
public sealed record StratifiedQuantity(Measure Measure, string Field, ImmutableArray<LevelQuantity> Levels);

/// <summary>The odds ratio of two levels pooled over the levels of another field, and whether it may be one.</summary>
/// <param name="Field">The field within whose levels they are compared.</param>
/// <param name="Levels">How many of its levels hold records of both.</param>
/// <param name="OddsRatio">Mantel-Haenszel, first over second.</param>
/// <param name="Homogeneity">Breslow-Day with Tarone's correction; null where it cannot be told.</param>
public sealed record WithinLevels(string Field, int Levels, RatioEstimate OddsRatio, TestResult? Homogeneity);

/// <summary>
/// A measure at two levels of a yes/no field: the first, then the second, their difference, and the same within levels of other fields.
/// </summary>
public sealed record LevelDifference(Measure Measure, string Field, string First, string Second, DifferenceEstimate Difference)
{
    public ImmutableArray<WithinLevels> Within { get; init; } = [];

    /// <summary>How far its interval stays away from no difference; 0 or less where it holds none.</summary>
    public double Clearness => Math.Max(Difference.Lower, -Difference.Upper);
}

/// <summary>A measure over levels that have an order, which count 1, 2, 3.</summary>
public sealed record LevelTrend(Measure Measure, string Field, ImmutableArray<string> Levels, Count All, TrendResult Trend);

/// <summary>What a section of the report says, over 12 months or more.</summary>
/// <param name="Definition">The question.</param>
/// <param name="From">First month.</param>
/// <param name="To">Last month.</param>
public sealed record SectionFigures(SectionDefinition Definition, Month From, Month To)
{
    /// <summary>Its name in tables.</summary>
    public string Id => Definition.Id;

    /// <summary>Its proportions with their strata, in the order of the definition.</summary>
    public ImmutableArray<StratifiedMeasure> Measures { get; init; } = [];

    public ImmutableArray<StratifiedQuantity> Quantities { get; init; } = [];

    /// <summary>The measures of a section without strata, one by one, those without figures included.</summary>
    public ImmutableArray<MeasureFigures> Listed { get; init; } = [];

    public ImmutableArray<LevelDifference> Differences { get; init; } = [];

    public ImmutableArray<LevelTrend> Trends { get; init; } = [];

    public ImmutableArray<AgreementFigures> Agreements { get; init; } = [];

    /// <summary>Fields by which nothing can be split, since no source collects what they need.</summary>
    public ImmutableArray<string> NotCollected { get; init; } = [];

    /// <summary>Measures that too few records belong to for any figure.</summary>
    public IEnumerable<StratifiedMeasure> WithTooFew => Measures.Where(measure => measure.Strata.IsEmpty && !measure.All.IsEmpty);

    /// <summary>True where there are records, and too few of them for any figure.</summary>
    public bool IsTooFew => !IsAnswered && NotCollected.IsEmpty && WithTooFew.Any();

    /// <summary>True where there is something to show.</summary>
    public bool IsAnswered =>
        Measures.Any(measure => !measure.Strata.IsEmpty) || Listed.Any(measure => !measure.Year.IsEmpty || measure.YearQuantity is not null)
            || !Agreements.IsEmpty;
}
