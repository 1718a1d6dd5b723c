using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Cli.Checking;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Traces;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli;

/// <summary>The records of a pipeline: read, judged, each row's fate in the ledger, and what does not count set aside.</summary>
public sealed class CheckedRecords : IDisposable
{
    private readonly ReadRecords _read;

    private CheckedRecords(ReadRecords read, Engine engine, IReadOnlyList<RuleBreach> breaches, Ledger ledger) =>
        (_read, Engine, Breaches, Ledger) = (read, engine, breaches, ledger);

    public DefinedPipeline Defined => _read.Defined;

    public PipelineDefinition Pipeline => Defined.Pipeline;

    /// <summary>The sources of records and attempts.</summary>
    public IReadOnlyList<IngestedSource> Sources => _read.Sources;

    /// <summary>The sources of monitor traces; null where the pipeline has none.</summary>
    public TraceSet? Traces => _read.Traces;

    /// <summary>The records that count.</summary>
    public Engine Engine { get; }

    public IReadOnlyList<RuleBreach> Breaches { get; }

    public Ledger Ledger { get; }

    /// <summary>False where no figure may rest on these records: <see cref="WhyRefused"/> says why.</summary>
    public bool IsTolerated => WhyRefused is null;

    /// <summary>Why no figure may rest on these records; null where figures may.</summary>
    public string? WhyRefused =>
        Ledger.WithRepeatedKeys.Select(index => RepeatedKeyFindings.Say(Sources[index], Ledger, index)).FirstOrDefault()
            ?? (Ledger.QuarantinedShare <= Pipeline.Tolerance ? null : string.Create(CultureInfo.InvariantCulture,
                $"more rows are quarantined than the pipeline tolerates ({Pipeline.Tolerance:P0})"));

    /// <summary>Refuses to go on where no figure may rest on these records.</summary>
    /// <exception cref="Failure">Too many rows are quarantined, or a key stands for several records (exit 4).</exception>
    public void RequireTolerated()
    {
        if (WhyRefused is { } why)
            throw new Failure(ExitCode.Input, $"{why}; no figures may rest on these records, so `{Tool.Name} check` comes first");
    }

    /// <summary>Accepted records by month.</summary>
    public IReadOnlyDictionary<Month, long> ByMonth => field ??= Engine.RecordsByMonth().ToDictionary(row => row.Month, row => row.Records);

    /// <summary>The records of a pipeline for a command that prints no single record.</summary>
    /// <exception cref="Failure">A definition is wrong (exit 3), or a source cannot be used (exit 4).</exception>
    public static CheckedRecords Open(PipelineDefinition pipeline, DateOnly asOf) =>
        Judge(ReadRecords.Read(DefinedPipeline.Open(pipeline, asOf)));

    /// <summary>The same for a command that prints single records.</summary>
    /// <exception cref="Failure">The pipeline writes for others (exit 2); else as <see cref="Open"/>.</exception>
    public static CheckedRecords OpenForDepartment(PipelineDefinition pipeline, DateOnly asOf) =>
        OpenForDepartment(pipeline, asOf, []);

    /// <summary>The same for a command whose engine writes files of its own.</summary>
    /// <param name="pipeline">The pipeline.</param>
    /// <param name="asOf">The date on which the records are looked at.</param>
    /// <param name="writable">Absolute paths of those files.</param>
    public static CheckedRecords OpenForDepartment(PipelineDefinition pipeline, DateOnly asOf, ImmutableArray<string> writable)
    {
        RequireDepartment(pipeline, "this command prints single records");
        return Judge(ReadRecords.Read(DefinedPipeline.Open(pipeline, asOf)), StageWatch.None, writable, inOrder: !writable.IsEmpty);
    }

    /// <summary>Refuses a pipeline for others.</summary>
    /// <param name="pipeline">The pipeline.</param>
    /// <param name="why">What the command does that others may not see.</param>
    /// <exception cref="Failure">The pipeline writes for others (exit 2).</exception>
    public static void RequireDepartment(PipelineDefinition pipeline, string why)
    {
        ArgumentNullException.ThrowIfNull(pipeline);
        if (pipeline.Audience != Audience.Department)
            throw new Failure(ExitCode.Usage, $"`{pipeline.File}` has `audience: {pipeline.Audience.ToString().ToLowerInvariant()}`, "
                + $"and {why}; use a pipeline with `audience: department`");
    }

    /// <summary>Judges what was read, keeps the ledger, and sets aside the rows that do not count.</summary>
    /// <param name="read">What was read; closed together with the result.</param>
    /// <param name="watch">Times the stages.</param>
    /// <param name="output">Where the engine may write the normalised records; null where it may not.</param>
    public static CheckedRecords Judge(ReadRecords read, StageWatch? watch = null, OutputFolder? output = null)
    {
        ArgumentNullException.ThrowIfNull(read);
        return Judge(read, watch ?? StageWatch.None,
            output is not null && read.Defined.Pipeline.ExportRecords ? [.. RecordExport.Files(output)] : []);
    }

    private static CheckedRecords Judge(ReadRecords read, StageWatch watch, ImmutableArray<string> writable, bool inOrder = false)
    {
        var engine = watch.Time("open engine",
            () => read.Defined.Engine.On([.. read.Sources.Select(source => source.Stored)], writable, inOrder));
        var breaches = watch.Time("judge", engine.Judge);
        var ledger = watch.Time("ledger", () => Keep(read, breaches));
        engine.SetAside(ledger.SetAside());
        return new(read, engine, breaches, ledger);
    }

    /// <summary>What is wrong with single rows, in the order of files and lines.</summary>
    public List<Finding> Findings()
    {
        var findings = FindingList.Collect(Sources, Defined.Definitions, Breaches, Ledger, Pipeline.Strict);
        if (Traces is not null)
            findings.AddRange(TraceFindings.List(Traces, Defined.Definitions.Dictionary, Ledger, Pipeline.Strict));
        return findings;
    }

    /// <summary>How many records of the last 12 months have a trace; null where the pipeline has no traces.</summary>
    public TraceFigures? CountTraces(AnalysisPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return Traces is null
            ? null
            : Analysis.CountTraces.Count(Engine, ByMonth, DepartmentCounts.FirstOfYear(plan, ByMonth.Keys), plan.Month);
    }

    /// <summary>Writes the tables that name single rows.</summary>
    /// <returns>The schema of the quarantine, whose columns only this run knows.</returns>
    public TableSchema WriteTables(OutputFolder output, IReadOnlyList<Finding> findings) =>
        RecordTables.Write(output, Sources, Traces?.Traces ?? [], Ledger, findings);

    /// <summary>Deletes from the store what no current source needs.</summary>
    public void Sweep() => _read.Use.Sweep(Sources, Traces);

    public void Dispose()
    {
        Engine.Dispose();
        _read.Dispose();
    }

    // Fates of all rows, by what reading, strictness and refusing rules say.
    private static Ledger Keep(ReadRecords read, IReadOnlyList<RuleBreach> breaches)
    {
        var (pipeline, rules) = (read.Defined.Pipeline, read.Defined.Definitions.Rules);
        var places = read.Sources.Select((source, index) => (source.Request.Order, index))
            .ToDictionary(pair => pair.Order, pair => pair.index);
        var refused = new Dictionary<(int, int), string>();
        foreach (var breach in breaches)
            if (rules[breach.Rule].Severity == Severity.Refuse)
                refused.TryAdd((places[breach.Source], breach.Row), rules[breach.Rule].Id);
        var ledger = LedgerKeeper.Keep(read.Sources, refused, pipeline.Duplicates, pipeline.Strict);
        return read.Traces is null ? ledger : ledger.With(read.Traces.Traces, pipeline.Strict);
    }
}
