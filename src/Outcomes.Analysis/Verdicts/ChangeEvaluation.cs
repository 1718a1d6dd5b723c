using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>One measure before and after a declared change that should move it.</summary>
/// <param name="Change">The change.</param>
/// <param name="Measure">The measure.</param>
/// <param name="Before">Whole months before it: at most 12, and none before the phase that it ended; null where there is none.</param>
/// <param name="After">Whole months since, up to the report month or the next phase; null while there is none.</param>
/// <param name="BeforeCount">Count of the months before.</param>
/// <param name="AfterCount">Count of the months since.</param>
/// <param name="Difference">After minus before, with its interval; null while either side has no eligible record.</param>
/// <param name="Segments">Level and trend over the same months, those that belong to neither side as gaps; null while a side has
/// no month.</param>
public sealed record ChangeEvaluation(
    DeclaredChange Change, Measure Measure, (Month From, Month To)? Before, (Month From, Month To)? After, Count BeforeCount,
    Count AfterCount, DifferenceEstimate? Difference, SegmentedChange? Segments = null)
{
    public Estimate? BeforeEstimate => Proportion.Estimate(BeforeCount);

    public Estimate? AfterEstimate => Proportion.Estimate(AfterCount);
}
