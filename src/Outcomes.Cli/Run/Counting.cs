using System.Collections.Immutable;
using Outcomes.Cli.Definitions;
using Outcomes.Records;

namespace Outcomes.Cli.Run;

/// <summary>The counts of a pipeline without a report: read, judged, counted, nothing written but the record store.</summary>
/// <param name="Catalogue">The definitions.</param>
/// <param name="Book">Counts by month, up to <paramref name="Month"/>.</param>
/// <param name="Month">The last month that has ended.</param>
/// <param name="Tolerated">False when more rows are quarantined than the pipeline tolerates; the book is then empty.</param>
public sealed record Counting(Catalogue Catalogue, SeriesBook Book, Month Month, bool Tolerated)
{
    /// <summary>The case mix of the measures for which the pipeline asks it.</summary>
    public ImmutableArray<FittedMix> Mixes { get; init; } = [];

    /// <exception cref="Failure">As a run would.</exception>
    public static Counting Of(Pipeline pipeline, DateOnly asOf)
    {
        var catalogue = Catalogue.Of(pipeline);
        var month = PipelineRun.LastEnded(asOf);
        using var defined = PipelineRun.Define(pipeline, catalogue, asOf);
        using var use = RecordStore.Use(pipeline.Store);
        var sources = PipelineRun.Read(pipeline, catalogue);
        var traces = Traces.Read(pipeline, catalogue, sources);
        sources = traces?.Sources ?? sources;
        using var engine = PipelineRun.Open(defined, pipeline, sources);
        var ledger = PipelineRun.KeepLedger(pipeline, catalogue, sources, engine.Judge(), traces);
        if (ledger.QuarantinedShare > pipeline.Tolerance)
            return new(catalogue, new([], month, month), month, false);
        engine.SetAside(ledger.SetAside());
        var records = engine.RecordsByMonth().ToDictionary(row => row.Month, row => row.Records);
        var counts = engine.Count([.. catalogue.Measures.Where(measure => ChangeSignals.IsWatched(pipeline, measure))], []);
        var book = PipelineRun.Book(pipeline, counts, records, month);
        return new(catalogue, book, month, true) { Mixes = FittedMix.All(pipeline, catalogue, book, engine) };
    }
}
