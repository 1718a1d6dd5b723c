using Outcomes.Cli.Checking;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Traces;
using Outcomes.Records;

namespace Outcomes.Cli;

/// <summary>The sources of a pipeline as they stand in the record store, which is in use until this is closed.</summary>
public sealed class ReadRecords : IDisposable
{
    private ReadRecords(DefinedPipeline defined, RecordStore use, IReadOnlyList<IngestedSource> sources, TraceSet? traces) =>
        (Defined, Use, Sources, Traces) = (defined, use, sources, traces);

    public DefinedPipeline Defined { get; }

    public RecordStore Use { get; }

    /// <summary>The sources of records and attempts, with what the traces say of their records.</summary>
    public IReadOnlyList<IngestedSource> Sources { get; }

    /// <summary>The sources of monitor traces; null where the pipeline has none.</summary>
    public TraceSet? Traces { get; }

    /// <summary>Every source, those of traces last.</summary>
    public IEnumerable<IngestedSource> All => Sources.Concat(Traces?.Traces ?? []);

    /// <summary>Reads every source into the store; what is there already is not read again.</summary>
    /// <param name="defined">The pipeline; closed together with the result.</param>
    /// <param name="watch">Times the stages.</param>
    /// <param name="refusals">Where a refusal is put on record; null for nowhere.</param>
    /// <exception cref="Failure">A definition is wrong (exit 3), or a whole file is refused (exit 4).</exception>
    public static ReadRecords Read(DefinedPipeline defined, StageWatch? watch = null, OutputFolder? refusals = null)
    {
        ArgumentNullException.ThrowIfNull(defined);
        watch ??= StageWatch.None;
        var pipeline = defined.Pipeline;
        var dictionary = defined.Dictionary;
        var use = RecordStore.Use(pipeline.Store);
        try
        {
            var requests = SourceRequests.All(pipeline).ToLookup(request => request.Mapping.Table.RowsAreSamples);
            var sources = watch.Time("read", () => Ingested(requests[false]));
            if (!requests[true].Any())
                return new(defined, use, sources, null);
            var traces = watch.Time("traces", () => TraceTables.Of(sources, Ingested(requests[true]), dictionary, pipeline.Store));
            return new(defined, use, traces.Sources, traces);
        }
        catch (Failure refusal)
        {
            use.Dispose();
            // A wrong definition is told first, whichever was found first.
            defined.Wait();
            if (refusal.Rule.Length > 0 && refusals is not null) RefusedFile.Write(refusals, refusal);
            throw;
        }

        IngestedSource[] Ingested(IEnumerable<SourceRequest> requests) =>
            [.. requests.Select(request => Told(Ingest.Read(request, dictionary, pipeline.Store)))];
    }

    private static IngestedSource Told(IngestedSource source)
    {
        if (source.WasDamaged)
            Console.Error.WriteLine(
                $"{Tool.Name}: the copy of {source.Request.File} in the record store was damaged, so the file has been read again");
        return source;
    }

    public void Dispose()
    {
        Use.Dispose();
        Defined.Dispose();
    }
}
