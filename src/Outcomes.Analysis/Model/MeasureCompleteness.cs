using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Analysis;

/// <summary>How many of the records that may belong to a measure could be judged, and the fields that were missing most.</summary>
public sealed record MeasureCompleteness(string Title, long Judged, long Of, ImmutableArray<FieldCompleteness> Weakest)
{
    // The three least complete fields say where to begin.
    private const int Named = 3;

    /// <summary>One a headline proportion that has figures.</summary>
    public static ImmutableArray<MeasureCompleteness> All(
        IEnumerable<MeasureFigures> measures, ImmutableArray<FieldCompleteness> known,
        ImmutableDictionary<string, ImmutableArray<string>> behind) =>
    [
        .. measures.Where(measure => measure is { Headline: true, NotCollected: null, Measure.Kind: MeasureKind.Proportion })
            .Select(measure => Judge(measure, known, behind.GetValueOrDefault(measure.Measure.Id, []))),
    ];

    private static MeasureCompleteness Judge(
        MeasureFigures measure, ImmutableArray<FieldCompleteness> known, ImmutableArray<string> behind) => new(
            measure.Measure.Title, measure.Year.Eligible, measure.Year.Eligible + measure.Year.Missing,
            [
                .. known.Where(field => field is { Collected: true, Of: > 0 } && behind.Contains(field.Field))
                    .OrderBy(field => field.Known / (double)field.Of).ThenBy(field => field.Field, StringComparer.Ordinal).Take(Named),
            ]);
}
