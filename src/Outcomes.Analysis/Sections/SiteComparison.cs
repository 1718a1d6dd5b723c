using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>One measure between sites over the last 12 months: sites in the order of their code, never ranked.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="From">First month.</param>
/// <param name="To">Last month.</param>
/// <param name="Funnel">The sites against the pooled proportion, exact limits without widening.</param>
/// <param name="Shrinkage">Estimates pulled towards the mean of all; null where the counts give none.</param>
/// <param name="Pooled">Random effects on the scale of log odds; null with fewer than two sites with records.</param>
/// <param name="Unplaced">Judged records without a site.</param>
public sealed record SiteComparison(
    Measure Measure, Month From, Month To, Funnel Funnel, Shrinkage? Shrinkage, PooledEffect? Pooled, Count Unplaced)
{
    /// <summary>With fewer sites than this, variation between them cannot be estimated well.</summary>
    public const int FewSites = 5;

    /// <summary>An estimate a point of the funnel, in its order; null where none was eligible.</summary>
    public ImmutableArray<Estimate?> Estimates => [.. Funnel.Points.Select(point => Proportion.Estimate(point.Count))];

    /// <summary>Sites with records.</summary>
    public int Sites => Funnel.Points.Count(point => point.Count.Eligible > 0);
}
