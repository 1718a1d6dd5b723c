using System.Collections.Immutable;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Reading;

namespace Outcomes.Cli.Checking;

/// <summary>What reading is asked for each source of a pipeline.</summary>
internal static class SourceRequests
{
    // What was mended follows the source that it came from, so that a later source corrects it as it would have corrected the row.
    public static IEnumerable<SourceRequest> All(PipelineDefinition pipeline)
    {
        var order = 0;
        ImmutableArray<string> files = [.. pipeline.Sources.SelectMany(source => source.Mended.Select(mended => mended.File)
            .Prepend(Shown(pipeline, source))).Distinct()];
        foreach (var source in pipeline.Sources)
        {
            var origin = order;
            yield return new SourceRequest(source.Name, order++, source.Path, Shown(pipeline, source), source.Mapping)
            {
                RepeatedKeysExpected = source.RepeatedKeysExpected,
            };
            foreach (var mended in source.Mended)
                yield return new SourceRequest($"{source.Name} (mended)", order++, mended.Path, mended.File, source.Mapping)
                {
                    Mends = new MendedOrigin(origin, Shown(pipeline, source), files),
                };
        }
    }

    // Two sheets of one workbook are two sources: ledger, findings and quarantine must tell them apart.
    private static string Shown(PipelineDefinition pipeline, PipelineSource source) =>
        source.Mapping.Table.Sheet is { } sheet && pipeline.Sources.Count(other => other.Path == source.Path) > 1 && !ShownName.Trips(sheet)
            ? $"{source.File}#{sheet}"
            : source.File;
}
