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
    SeldomRecorded,
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
/// <param name="Interval">Its 95 % interval, with the ridge's penalty read as a prior.</param>
public sealed record CaseMixTerm(
    string Field, string? Level, string? Reference, int Records, int Events, double OddsRatio, Bounds Interval)
{
    /// <summary>The stable name of the interval that tables carry.</summary>
    public const string Method = "ridge_posterior";
}

/// <summary>What became of a field's small levels, and how often it is missing.</summary>
public sealed record CaseMixField(string Field, ImmutableArray<string> Pooled, bool PooledIsReference, int Missing, int Unseen);

/// <summary>Records of like expected chance, and how often the event happened to them.</summary>
public sealed record CaseMixGroup(double Expected, Estimate Observed);

/// <summary>A fitted model, in numbers of six digits.</summary>
public sealed record FittedModel
{
    public required ImmutableArray<CaseMixTerm> Terms { get; init; }

    public required ImmutableArray<CaseMixField> Fields { get; init; }

    /// <summary>Records of the baseline that know every field of the model: what the odds ratios rest on.</summary>
    public required int FullRecords { get; init; }

    /// <summary>Patterns of missing fields that have a model of their own, without those fields.</summary>
    public int PartModels { get; init; }

    /// <summary>Records, of any month, whose chance is the baseline's mean, since they lack fields as few others do.</summary>
    public int MeanRecords { get; init; }

    /// <summary>Area under the ROC curve by cross-validation, and on the records fitted.</summary>
    public required Spread Auc { get; init; }

    public double ApparentAuc { get; init; }

    /// <summary>Calibration by cross-validation; null where it cannot be said.</summary>
    public Spread? Intercept { get; init; }

    public Spread? Slope { get; init; }

    public double Brier { get; init; }

    public double BrierOfMean { get; init; }

    public ImmutableArray<CaseMixGroup> Groups { get; init; } = [];
}

/// <summary>Observed and expected events of a month, a site or a year.</summary>
/// <param name="From">First month.</param>
/// <param name="To">Last month.</param>
/// <param name="Site">The site; null for all.</param>
/// <param name="Records">Judged records.</param>
/// <param name="Observed">Events.</param>
/// <param name="Expected">Events expected.</param>
/// <param name="Ratio">Observed over expected, with the model's own error in its interval; null without records.</param>
public sealed record ObservedExpected(Month From, Month To, string? Site, int Records, long Observed, double Expected, Spread? Ratio)
{
    /// <summary>The stable name of the ratio's interval that tables carry.</summary>
    public const string Method = Outcomes.CaseMix.StandardisedRatio.ErrorMethod;

    /// <summary>Standard error of what is expected, from the model's own error; null without records.</summary>
    public double? ExpectedError { get; init; }

    /// <summary>Observed less expected, summed from the first month; for months only.</summary>
    public double? Cumulative { get; init; }
}

/// <summary>One measure against what is expected for its case mix.</summary>
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

    /// <summary>
    /// The columns, the events that they would have needed, and those among the records that know the fields (or the records without one,
    /// if rarer), where that is why there is no model.
    /// </summary>
    public (int Columns, int EventsNeeded, int Events)? Refused { get; init; }

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
