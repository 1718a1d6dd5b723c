using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Why something of the case mix is not in a model.</summary>
public enum OmittedBecause
{
    NotCollected,
    TooFewEvents,
    NoVariation,
    SaidAlready,
}

/// <summary>A field, or one level of it, that is not in a model.</summary>
public sealed record CaseMixOmission(string Field, string? Level, OmittedBecause Why);

/// <summary>A column of a model with its odds ratio.</summary>
/// <param name="Field">The field's name.</param>
/// <param name="Level">The level; null for a quantity, whose odds ratio is for one unit more.</param>
/// <param name="Reference">What the level is compared with; null for a quantity.</param>
/// <param name="Records">Records of the baseline at that level.</param>
/// <param name="Events">Events among them.</param>
/// <param name="OddsRatio">The odds ratio, with the others held.</param>
/// <param name="Interval">Its 95 % interval.</param>
/// <param name="Method">How the interval was made: <c>profile_likelihood</c> or <c>wald</c>.</param>
public sealed record CaseMixTerm(
    string Field, string? Level, string? Reference, int Records, int Events, double OddsRatio,
    Bounds Interval, string Method)
{
    /// <summary>The level of records without a value.</summary>
    public const string Missing = Outcomes.CaseMix.FieldCoding.Missing;
}

/// <summary>What became of a field's small levels and missing values.</summary>
public sealed record CaseMixField(string Field, ImmutableArray<string> Pooled, bool PooledIsReference, int Missing, int Unseen);

/// <summary>Records of like expected chance, and how often the event happened to them.</summary>
public sealed record CaseMixGroup(double Expected, Estimate Observed);

/// <summary>A fitted model, in numbers of six digits.</summary>
public sealed record FittedModel
{
    public required ImmutableArray<CaseMixTerm> Terms { get; init; }

    public required ImmutableArray<CaseMixField> Fields { get; init; }

    /// <summary>True when the coefficients are those of the penalised likelihood, since the outcomes were separated.</summary>
    public bool Penalised { get; init; }

    /// <summary>Area under the ROC curve by cross-validation, and on the records fitted.</summary>
    public required Spread Auc { get; init; }

    public double ApparentAuc { get; init; }

    /// <summary>Calibration by cross-validation; null where it cannot be said.</summary>
    public Spread? Intercept { get; init; }

    public Spread? Slope { get; init; }

    public double Brier { get; init; }

    public double BrierOfMean { get; init; }

    public ImmutableArray<CaseMixGroup> Groups { get; init; } = [];

    public required CaseMixCusum Cusum { get; init; }
}

/// <summary>The risk-adjusted CUSUM since the baseline.</summary>
/// <param name="OddsRatio">The change looked for.</param>
/// <param name="Limit">The limit.</param>
/// <param name="FalseAlarm">Chance of a false alarm within <paramref name="Months"/>.</param>
/// <param name="Months">Months of baseline volume that the chance is for.</param>
/// <param name="Records">Records in that many months.</param>
/// <param name="Runs">Simulated runs behind the limit.</param>
/// <param name="HoldsModelError">Whether the model was fitted anew in each, so that its own error is in the limit.</param>
/// <param name="Signals">Months in which the limit was reached.</param>
public sealed record CaseMixCusum(double OddsRatio, double Limit, double FalseAlarm, int Months, int Records, int Runs,
    bool HoldsModelError, ImmutableArray<Month> Signals);

/// <summary>Observed and expected events of a month, a site or a year.</summary>
/// <param name="From">First month.</param>
/// <param name="To">Last month.</param>
/// <param name="Site">The site; null for all.</param>
/// <param name="Records">Judged records.</param>
/// <param name="Observed">Events.</param>
/// <param name="Expected">Events expected.</param>
/// <param name="Ratio">Observed over expected with its interval; null without records.</param>
public sealed record ObservedExpected(Month From, Month To, string? Site, int Records, long Observed, double Expected, Spread? Ratio)
{
    /// <summary>Observed less expected, summed from the first month; for months only.</summary>
    public double? Cumulative { get; init; }

    /// <summary>The CUSUM at the month's end; for months after the baseline.</summary>
    public double? Cusum { get; init; }

    public bool Signal { get; init; }
}

/// <summary>One measure against what its case mix lets expect.</summary>
public sealed record CaseMixFigures
{
    public required Measure Measure { get; init; }

    /// <summary>True when the event is that the measure was not met.</summary>
    public required bool EventIsNotMet { get; init; }

    /// <summary>The months that the model was fitted to.</summary>
    public required Month From { get; init; }

    public required Month To { get; init; }

    /// <summary>Judged records of the baseline, events among them, and records that could not be judged.</summary>
    public required int Records { get; init; }

    public required int Events { get; init; }

    public long Missing { get; init; }

    /// <summary>Events that the columns would have needed and the columns, where that is why there is no model.</summary>
    public (int Columns, int EventsNeeded)? Refused { get; init; }

    public FittedModel? Figures { get; init; }

    /// <summary>The model beside an additive one; null where the plan does not ask, or there is no model with a column.</summary>
    public ChallengerFigures? Challenger { get; init; }

    public ImmutableArray<CaseMixOmission> Omitted { get; init; } = [];

    /// <summary>The last 12 months.</summary>
    public ObservedExpected? Year { get; init; }

    public ImmutableArray<ObservedExpected> Months { get; init; } = [];

    /// <summary>The last 12 months by site, where there are sites.</summary>
    public ImmutableArray<ObservedExpected> Sites { get; init; } = [];
}
