using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>A quantity over a period, in its unit.</summary>
/// <param name="N">Eligible records with a value.</param>
/// <param name="Missing">Eligible records without one.</param>
/// <param name="Median">Their median.</param>
/// <param name="LowerQuartile">Lower quartile.</param>
/// <param name="UpperQuartile">Upper quartile.</param>
/// <param name="Least">Least value.</param>
/// <param name="Greatest">Greatest value.</param>
public sealed record QuantitySummary(
    long N, long Missing, double Median, double LowerQuartile, double UpperQuartile, double Least, double Greatest)
{
    /// <summary>
    /// Lower quartile, median and upper quartile with their intervals from order statistics; an end is null where too few values bound it.
    /// </summary>
    public ImmutableArray<QuantileEstimate> Estimates { get; init; } = [];

    /// <summary>Eligible records whose reading was too low to measure: worse than the least value, and in no quantile.</summary>
    public long Unrecordable { get; init; }

    /// <summary>Decimal places that its values are counted with.</summary>
    public int Decimals { get; init; }

    /// <summary>What <see cref="Estimates"/> holds, in its order.</summary>
    public static readonly ImmutableArray<double> Parts = [0.25, 0.5, 0.75];

    /// <summary>
    /// The summary of counted values, with those that are missing and those too low to measure beside it. Null without a value.
    /// </summary>
    /// <param name="rows">Counts by value.</param>
    /// <param name="measure">The quantity.</param>
    public static QuantitySummary? Of(IReadOnlyCollection<ValueRow> rows, Measure measure) =>
        Of(rows.Where(row => row.Value is not null).Select(row => ((double)row.Value!.Value / measure.Scale, row.N)),
            CountMissing(rows)) is { } summary
            ? summary with { Unrecordable = CountUnrecordable(rows), Decimals = measure.Decimals }
            : null;

    public static long CountMissing(IEnumerable<ValueRow> rows) =>
        rows.Where(row => row.Value is null && !row.Unrecordable).Sum(row => row.N);

    public static long CountUnrecordable(IEnumerable<ValueRow> rows) => rows.Where(row => row.Unrecordable).Sum(row => row.N);

    /// <summary>
    /// The summary of value counts, which add while quantiles do not. Quantiles interpolate between the order statistics about
    /// position (n - 1)p (definition 7 of Hyndman RJ, Fan Y. Am Stat 1996;50:361-5). Null without a value.
    /// </summary>
    public static QuantitySummary? Of(IEnumerable<(double Value, long N)> counts, long missing)
    {
        var sorted = counts.Where(count => count.N > 0).OrderBy(count => count.Value).ToList();
        var n = sorted.Sum(count => count.N);
        if (n == 0)
            return null;
        var values = sorted.Select(count => (count.Value, count.N)).ToArray();
        return new(n, missing, Quantile(0.5), Quantile(0.25), Quantile(0.75), sorted[0].Value, sorted[^1].Value)
        {
            Estimates = [.. Parts.Select(p => Quantiles.Estimate(values, p)!)],
        };

        double Quantile(double p) => Quantiles.Find(values, p)!.Value;
    }
}
