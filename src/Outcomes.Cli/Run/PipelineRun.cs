using System.Collections.Immutable;
using System.Diagnostics;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Traces;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Model;

namespace Outcomes.Cli.Run;

/// <summary>
/// What the command line adds to a pipeline file. All of it goes into what <see cref="FormerRun"/> compares; a path that is added here
/// needs its content compared there too.
/// </summary>
/// <param name="Month">The report month; null is the last that has ended by as_of.</param>
/// <param name="AsOf">The date on which the data are looked at.</param>
/// <param name="Charts">Whether charts are drawn.</param>
public sealed record RunRequest(Month? Month, DateOnly AsOf, bool Charts)
{
    /// <summary>Whether a browser prints the report.</summary>
    public bool Pdf { get; init; }

    /// <summary>Folders of earlier reports for the same audience.</summary>
    public IReadOnlyList<string> Previous { get; init; } = [];
}

/// <summary>How a run ended.</summary>
/// <param name="Code">Done, or Input when more is quarantined than tolerated.</param>
/// <param name="Unchanged">True when nothing had changed since the output was made, so that it was left as it is.</param>
public readonly record struct RunResult(ExitCode Code, bool Unchanged);

/// <summary>A run up to its figures: what was read, what became of it, what it amounts to.</summary>
public sealed record Figures(
    Pipeline Pipeline, Catalogue Catalogue, IReadOnlyList<IngestedSource> Sources, Ledger Ledger, List<Finding> Findings,
    CountResult Counts, ValueResult Values, SeriesBook Book, IReadOnlyDictionary<Month, long> Records, Month Month, DateOnly AsOf)
{
    public CaptureReport? Capture { get; init; }

    /// <summary>The core fields, and those that a figure rests on.</summary>
    public ImmutableArray<Field> Fields { get; init; } = [];

    /// <summary>The sources of traces.</summary>
    public IReadOnlyList<IngestedSource> Traces { get; init; } = [];
}

/// <summary>The whole pipeline as one sentence: read the sources, judge them, keep the ledger, count, infer, report.</summary>
public static class PipelineRun
{
    // Beyond this, what reading has left in memory goes back before the engine takes its own.
    private const long ManyRows = 200_000;

    /// <summary>Runs a pipeline and publishes its output set; where the set stands already and nothing has changed, leaves it.</summary>
    public static RunResult Execute(Pipeline pipeline, RunRequest request, string outFolder, Progress progress)
    {
        var watch = new StageWatch(progress);
        var browser = request.Pdf ? Browser.Find() : null;
        if (request.Charts) _ = Task.Run(Charts.Prepare);
        _ = Task.Run(Engine.Prepare);
        var catalogue = watch.Time("definitions", () => Catalogue.Of(pipeline));
        using var defined = watch.Time("check definitions", () => Define(pipeline, catalogue, request.AsOf));
        var month = request.Month ?? LastEnded(request.AsOf);
        var rule = DisclosureRule.For(pipeline.Audience);
        var earlier = SharedFiles.Earlier(pipeline.Audience, request.Previous);
        RefuseReplacing(pipeline, outFolder);
        _ = CaseSalt.Of(pipeline);
        using var output = OutputFolder.Open(outFolder);
        using var use = RecordStore.Use(pipeline.Store);
        var sources = watch.Time("read", () => Read(pipeline, catalogue, rule is null ? output : null));
        var traces = watch.Time("traces", () => Traces.Read(pipeline, catalogue, sources, rule is null ? output : null));
        sources = traces?.Sources ?? sources;
        var counted = Counted(pipeline);
        var packs = rule is null ? EarlierPacks.Beside(outFolder, pipeline.Name, month) : EarlierPacks.None;
        var former = FormerRun.Of(pipeline, request with { Month = month }, sources, packs, outFolder);
        if (watch.Time("compare", former.Stands)) return new RunResult(ExitCode.Done, Unchanged: true);
        if (sources.Sum(source => (long)source.Manifest.Rows) > ManyRows) GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        using var engine = watch.Time("open engine", () => Open(defined, pipeline, sources, output));
        var breaches = watch.Time("judge", engine.Judge);
        var ledger = watch.Time("ledger", () => KeepLedger(pipeline, catalogue, sources, breaches, traces));
        var findings = watch.Time("findings", () => FindingList.Of(sources, catalogue, breaches, ledger, pipeline.Strict));
        if (traces is not null) findings.AddRange(Traces.Findings(traces, catalogue.Dictionary, ledger, pipeline.Strict));
        var tolerated = ledger.QuarantinedShare <= pipeline.Tolerance;
        Dictionary<Month, long> records = [];
        CaptureReport? capture = null;
        ImmutableArray<Field> fields = [];
        Review? review = null;
        if (tolerated)
        {
            engine.SetAside(ledger.SetAside());
            records = watch.Time("records by month", () => engine.RecordsByMonth().ToDictionary(row => row.Month, row => row.Records));
            capture = counted is null ? null : Capture.Of(counted, records, Capture.Sites(counted, engine), YearFrom(pipeline, records, month), month);
            fields = DataQuality.Fields(pipeline, catalogue, engine);
            if (pipeline.ShippedRules) findings.AddRange(watch.Time("months", () => DataQuality.PossibleDuplicates(engine, sources).Concat(DataQuality.SiteMonths(engine, fields, sources, month)).ToArray()));
            if (pipeline.UnusualRecords) findings.AddRange(watch.Time("unusual records", () => UnusualRecordFindings.Of(engine, sources)));
            if (capture is not null) findings.AddRange([.. counted!.Findings, .. Capture.Findings(counted, capture)]);
        }

        if (rule is not null)
        {
            if (!tolerated) throw SharedFiles.NotTolerated(pipeline);
            watch.Time("shared", () => SharedFiles.Write(output, pipeline, catalogue, engine, new SharedRun(records, month, request.AsOf, rule, earlier, sources, traces?.Traces ?? [])));
            if (browser is not null) watch.Time("pdf", () => Browser.Print(browser, output.PathOf("report.html"), output.PathOf("report.pdf")));
            output.Publish();
            former.Remember();
            use.Sweep(sources, traces);
            return new RunResult(ExitCode.Done, Unchanged: false);
        }

        // The tables of single rows need no engine: they are written while it counts.
        var recordTables = Task.Run(() => RecordTables.Write(output, sources, traces?.Traces ?? [], ledger, findings));
        if (tolerated)
        {
            string[] strata = [.. pipeline.Strata.Select(word => word.Word)];
            var counts = watch.Time("count", () => engine.Count(catalogue.Measures, strata));
            var values = watch.Time("values", () => engine.Values(catalogue.Measures, strata));
            var figures = new Figures(pipeline, catalogue, sources, ledger, findings, counts, values, Book(pipeline, counts, records, month), records, month, request.AsOf)
            {
                Capture = capture,
                Fields = fields,
                Traces = traces?.Traces ?? [],
            };
            review = watch.Time("review", () => Review.Of(pipeline, catalogue, engine, traces, month, packs));
            var model = watch.Time("infer", () => ReportBuilder.Build(figures, engine, watch) with { Review = review.Pack.Counts });
            watch.Time("tables", () => FigureTables.Write(output, figures, model));
            if (capture is not null) Capture.Write(output, capture);
            if (pipeline.ExportRecords) watch.Time("export", () => RecordExport.Write(engine, output));
            watch.Time("cases", () => review.Write(output));
            watch.Time("report", () => ReportFiles.Write(output, model, request.Charts));
            if (browser is not null) watch.Time("pdf", () => Browser.Print(browser, output.PathOf("report.html"), output.PathOf("report.pdf")));
        }

        watch.Time("record tables", () => recordTables.GetAwaiter().GetResult());
        DataPackage.Write(output, pipeline.Name, pipeline.Audience);

        RunManifest.Write(output.PathOf("run.json"), new RunFacts(
            Tool.Version, pipeline.Name, request.AsOf, month, catalogue.Hash, tolerated, [.. sources, .. traces?.Traces ?? []], ledger, watch.Timings)
        { Capture = counted, Review = review?.Pack.Counts ?? [] });
        output.Publish();
        if (tolerated)
        {
            former.Remember();
            use.Sweep(sources, traces);
        }

        return new RunResult(tolerated ? ExitCode.Done : ExitCode.Input, Unchanged: false);
    }

    // Hours of mending would go with the old set.
    private static void RefuseReplacing(Pipeline pipeline, string outFolder)
    {
        var replaced = Path.GetFullPath(outFolder) + Path.DirectorySeparatorChar;
        foreach (var source in pipeline.Sources)
            foreach (var (path, file) in source.Mended.Select(mended => (mended.Path, mended.File)).Prepend((source.Path, source.File)))
                if (path.StartsWith(replaced, StringComparison.Ordinal))
                    throw new Failure(ExitCode.Usage, $"source `{source.Name}` lies in the output folder, which this run would replace; copy `{Path.GetFileName(file)}` beside the pipeline and name that copy");
    }

    /// <summary>The last month that has ended by a date, its last day included.</summary>
    public static Month LastEnded(DateOnly asOf) => Month.Of(asOf.AddDays(1)).AddMonths(-1);

    /// <summary>Reads every source of records and attempts into the store; those of traces are read by <see cref="Traces"/>.</summary>
    /// <exception cref="Failure">A whole file is refused (exit 4); an output folder, if given, then holds the record of it.</exception>
    public static IReadOnlyList<IngestedSource> Read(Pipeline pipeline, Catalogue catalogue, OutputFolder? output = null)
    {
        try
        {
            return [.. Requests(pipeline).Where(request => !request.Mapping.Table.RowsAreSamples).Select(request => Ingest.Read(request, catalogue.Dictionary, pipeline.Store))];
        }
        catch (Failure refusal) when (refusal.Rule.Length > 0 && output is not null)
        {
            RefusedFile.Write(output, pipeline.Name, refusal);
            throw;
        }
    }

    // What was mended follows the source that it came from, so that a later source corrects it as it would have corrected the row.
    internal static IEnumerable<SourceRequest> Requests(Pipeline pipeline)
    {
        var order = 0;
        ImmutableArray<string> files = [.. pipeline.Sources.SelectMany(source => source.Mended.Select(mended => mended.File).Prepend(Shown(pipeline, source))).Distinct()];
        foreach (var source in pipeline.Sources)
        {
            var origin = order;
            yield return new SourceRequest(source.Name, order++, source.Path, Shown(pipeline, source), source.Mapping);
            foreach (var mended in source.Mended)
                yield return new SourceRequest($"{source.Name} (mended)", order++, mended.Path, mended.File, source.Mapping)
                {
                    Mends = new MendedOrigin(origin, Shown(pipeline, source), files),
                };
        }
    }

    // Two sheets of one workbook are two sources: ledger, findings and quarantine must tell them apart.
    private static string Shown(Pipeline pipeline, PipelineSource source) =>
        source.Mapping.Table.Sheet is { } sheet && pipeline.Sources.Count(other => other.Path == source.Path) > 1 && !ShownName.Trips(sheet) ? $"{source.File}#{sheet}" : source.File;

    /// <summary>An engine with every definition checked and no source yet: what is wrong is said before a long read.</summary>
    /// <exception cref="Failure">A definition names what is not there (exit 3, file and line).</exception>
    public static Engine Define(Pipeline pipeline, Catalogue catalogue, DateOnly asOf)
    {
        var engine = AtLine(pipeline, pipeline.AssumeLine, () => Engine.Open(catalogue.Dictionary, [], new EngineOptions
        {
            AsOf = asOf,
            Assume = pipeline.Assume,
            Rules = catalogue.Rules,
        }));
        try
        {
            engine.Check(catalogue.Measures, []);
            engine.Check(catalogue.Flags);
            foreach (var stratum in pipeline.Strata)
                AtLine(pipeline, stratum.Line, () => { engine.Check([], [stratum.Word]); return engine; });
            ExpectedEvents.Check(pipeline, catalogue);
            foreach (var field in pipeline.CaseMix?.Given ?? [])
                AtLine(pipeline, field.Line, () => { engine.CheckNames("case_mix", [field.Word]); return engine; });
            return engine;
        }
        catch
        {
            engine.Dispose();
            throw;
        }
    }

    /// <summary>The engine on what was read.</summary>
    public static Engine Open(Engine defined, Pipeline pipeline, IReadOnlyList<IngestedSource> sources, OutputFolder? output = null) =>
        defined.On([.. sources.Select(source => source.Stored)], output is null || !pipeline.ExportRecords ? [] : [.. RecordExport.Files(output)]);

    // The engine does not know the pipeline file: what it says of a word of that file gets the word's line here.
    private static Engine AtLine(Pipeline pipeline, int line, Func<Engine> work)
    {
        try
        {
            return work();
        }
        catch (Failure failure) when (failure.File is null)
        {
            throw Failure.Definition(pipeline.File, line, failure.Message);
        }
    }

    /// <summary>Fates of all rows, by what reading, strictness and refusing rules say.</summary>
    public static Ledger KeepLedger(Pipeline pipeline, Catalogue catalogue, IReadOnlyList<IngestedSource> sources, IReadOnlyList<RuleBreach> breaches, TraceSet? traces = null)
    {
        var places = sources.Select((source, index) => (source.Request.Order, index)).ToDictionary(pair => pair.Order, pair => pair.index);
        var refused = new Dictionary<(int, int), string>();
        foreach (var breach in breaches)
            if (catalogue.Rules[breach.Rule].Severity == Severity.Refuse)
                refused.TryAdd((places[breach.Source], breach.Row), catalogue.Rules[breach.Rule].Id);
        var ledger = LedgerKeeper.Keep(sources, refused, pipeline.Duplicates, pipeline.Strict);
        return traces is null ? ledger : ledger.With(traces.Traces, pipeline.Strict);
    }

    /// <summary>From the first month with a record (or the baseline's, if earlier) to the report month: later months are not over.</summary>
    public static SeriesBook Book(Pipeline pipeline, CountResult counts, Dictionary<Month, long> records, Month month) =>
        new(counts.Rows, First(pipeline, records, month), month);

    private static Month First(Pipeline pipeline, Dictionary<Month, long> records, Month month)
    {
        var first = records.Count == 0 ? month : records.Keys.Min();
        if (pipeline.Baseline is var (from, _) && from < first) first = from;
        return first < month ? first : month;
    }

    /// <summary>First of the 12 months that end with the report month, or of as many as there are.</summary>
    public static Month YearFrom(Pipeline pipeline, Dictionary<Month, long> records, Month month) =>
        month.AddMonths(-11) < First(pipeline, records, month) ? First(pipeline, records, month) : month.AddMonths(-11);

    /// <summary>The independent counts of the pipeline; null where it names none.</summary>
    /// <exception cref="Failure">The file cannot be used (exit 4).</exception>
    public static IndependentCounts? Counted(Pipeline pipeline) => pipeline.Capture is { } capture ? CountsFile.Read(capture.Path, capture.File) : null;
}

/// <summary>Times the stages of a run and says which one is under way.</summary>
public sealed class StageWatch(Progress progress)
{
    private readonly List<(string, long)> _timings = [];

    public IReadOnlyList<(string Stage, long Milliseconds)> Timings => _timings;

    public T Time<T>(string stage, Func<T> work)
    {
        progress.Stage(stage);
        var start = Stopwatch.GetTimestamp();
        var result = work();
        _timings.Add((stage, (long)Stopwatch.GetElapsedTime(start).TotalMilliseconds));
        return result;
    }

    public void Time(string stage, Action work) => Time(stage, () =>
    {
        work();
        return 0;
    });
}
