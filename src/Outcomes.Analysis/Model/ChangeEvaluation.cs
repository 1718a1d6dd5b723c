using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>What the one planned evaluation of a declared change says of a measure.</summary>
public enum EvaluationState
{
    /// <summary>Its month has not come: there are counts, and no difference.</summary>
    Waiting,

    /// <summary>Fewer than 40 cases on a side, or no event on either.</summary>
    TooFew,

    /// <summary>It moved as expected, by more than chance explains.</summary>
    AsExpected,

    /// <summary>It moved against what was expected, by more than chance explains.</summary>
    Against,

    /// <summary>No difference fits as well.</summary>
    Unclear,
}

/// <summary>Which way a measure moved after a declared change, by more than chance explains.</summary>
public enum EvaluationEffect
{
    /// <summary>Neither way is shown.</summary>
    None,

    Better,
    Worse,

    /// <summary>The measure has no better side.</summary>
    Different,
}

/// <summary>After minus before, in the proportion met, with the interval for months that vary.</summary>
/// <param name="Value">The difference, −1 to 1.</param>
/// <param name="Lower">Lower end of the interval.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="Dispersion">How much the months vary within the two sides.</param>
/// <param name="Level">Level of the interval: the measures of one change share 5 %.</param>
public sealed record EvaluatedDifference(double Value, double Lower, double Upper, MonthDispersion Dispersion, double Level)
{
    /// <summary>Whether no difference is left out.</summary>
    public bool LeavesOutNone => Lower > 0 || Upper < 0;
}

/// <summary>
/// One measure before and after a declared change. It is compared once, in the month that was planned for it, and stays as it was then:
/// later months belong to the monthly test.
/// </summary>
/// <param name="Change">The change.</param>
/// <param name="Measure">The measure.</param>
/// <param name="State">What the evaluation says.</param>
/// <param name="Before">Whole months before it: at most 12, and none before the phase that it ended; null where there is none.</param>
/// <param name="After">Whole months since, as many as were planned or as there are so far; null while there is none.</param>
/// <param name="BeforeCount">Count of the months before.</param>
/// <param name="AfterCount">Count of the months since.</param>
/// <param name="Due">The month that it is evaluated with, at the latest.</param>
/// <param name="Difference">After minus before; null before its month and where there are too few.</param>
/// <param name="Segments">Level and trend; null but for long series with many cases.</param>
public sealed record ChangeEvaluation(
    DeclaredChange Change, Measure Measure, EvaluationState State, (Month From, Month To)? Before, (Month From, Month To)? After,
    Count BeforeCount, Count AfterCount, Month Due, EvaluatedDifference? Difference, SegmentedChange? Segments = null)
{
    /// <summary>Which way it moved, whatever was expected.</summary>
    public EvaluationEffect Effect => Difference is not { LeavesOutNone: true } difference ? EvaluationEffect.None
        : Measure.Direction == Direction.None ? EvaluationEffect.Different
        : difference.Value > 0 == (Measure.Direction == Direction.Up) ? EvaluationEffect.Better : EvaluationEffect.Worse;

    /// <summary>Before its month a proportion would already be a comparison.</summary>
    public Estimate? BeforeEstimate => State == EvaluationState.Waiting ? null : Proportion.Estimate(BeforeCount);

    public Estimate? AfterEstimate => State == EvaluationState.Waiting ? null : Proportion.Estimate(AfterCount);
}
