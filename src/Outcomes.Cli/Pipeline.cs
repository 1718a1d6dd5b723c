using Outcomes.Analysis;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Cli.Places;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli;

/// <summary>The whole run as one readable sequence: define, read, judge, count, analyse, report, publish.</summary>
public static class Pipeline
{
    // Beyond this, what reading has left in memory goes back before the engine takes its own.
    private const long ManyRows = 200_000;

    /// <summary>Runs a pipeline and publishes its output set; where the set is there already and nothing has changed, leaves it.</summary>
    public static RunResult Run(PipelineDefinition pipeline, RunRequest request, string outFolder, Progress progress)
    {
        var watch = new StageWatch(progress);
        var browser = request.Pdf != PrintedPages.None ? Browser.Find() : null;
        if (request.Charts is not null) _ = Task.Run(Charts.Prepare);
        _ = Task.Run(Engine.Prepare);

        var defined = DefinedPipeline.Begin(pipeline, request.AsOf);
        var rule = DisclosureRule.For(pipeline.Audience);
        OutputFolder.RefuseSources(outFolder, pipeline);
        using var output = OutputFolder.Open(
            outFolder, new(pipeline.Name, CaseSalt.PipelineId(pipeline), EarlierReports.Word(pipeline.Audience)), request.Folder);
        // Under the lock of the folder: what another run has just put there is an earlier set.
        var earlier = EarlierReports.Find(pipeline, request, request.Month ?? LastEnded(request.AsOf), outFolder);
        using var read = ReadRecords.Read(defined, watch, rule is null ? output : null);
        watch.Time("definitions", defined.Wait);
        var plan = defined.Plan(request.Month ?? LastEnded(request.AsOf));
        var counted = CheckedData.IndependentCounts(pipeline);
        var packs = rule is null ? EarlierPacks.Beside(outFolder, pipeline.Name, plan.Month) : EarlierPacks.None;
        plan = plan with { Changes = EarlierPlans.Compare(plan.Changes, packs) };
        var previous = PreviousRun.Of(pipeline, request with { Month = plan.Month }, read.Sources, (packs, earlier), output);
        if (watch.Time("compare", previous.IsCurrent)) return new RunResult(ExitCode.Done, Unchanged: true);

        if (read.Sources.Sum(source => (long)source.Manifest.Rows) > ManyRows)
            GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        _ = Task.Run(DataPackage.Prepare);
        using var records = CheckedRecords.Judge(read, watch, output);
        if (rule is not null)
            watch.Time("shared", () => SharedFiles.Write(output, plan, records, rule, earlier!, Print));
        else
            Department(output, new(plan, records, counted, packs, Print), request.Charts, watch);
        output.Publish();
        // The set is in its place: what a store that is gone cannot keep costs the next run its time, nothing else.
        if (records.IsTolerated)
        {
            Tidy.Try(previous.Remember);
            Tidy.Try(records.Sweep);
        }

        return new RunResult(records.IsTolerated ? ExitCode.Done : ExitCode.Input, Unchanged: false)
        {
            Why = records.WhyRefused,
        };

        void Print()
        {
            if (browser is null)
                return;
            // A set for others has no appendix.
            string[] pages = request.Pdf == PrintedPages.All && rule is null
                ? [Outcomes.Reporting.Page.Report.File, Appendix.File] : [Outcomes.Reporting.Page.Report.File];
            watch.Time("pdf", () =>
            {
                foreach (var page in pages)
                    Browser.Print(browser, output.PathOf(page), output.PathOf(Path.ChangeExtension(page, ".pdf")));
            });
        }
    }

    /// <summary>The last month that has ended by a date, its last day included.</summary>
    public static Month LastEnded(DateOnly asOf) => Month.Of(asOf.AddDays(1)).AddMonths(-1);

    private sealed record DepartmentRun(
        AnalysisPlan Plan, CheckedRecords Records, IndependentCounts? Counted, EarlierPacks Packs, Action Print);

    // The set for the department; where more is quarantined than tolerated, only what says why.
    private static void Department(OutputFolder output, DepartmentRun run, Slides? charts, StageWatch watch)
    {
        var (plan, records) = (run.Plan, run.Records);
        var facts = Facts(plan, records, watch) with { Capture = run.Counted };
        var tables = new List<TableSchema>();
        if (records.IsTolerated)
            facts = Stated(facts, Report(output, run, charts, watch, tables));
        else
            tables.Add(records.WriteTables(output, records.Findings()));
        if (records.IsTolerated) run.Print();
        DataPackage.Write(output, plan.Audience, tables);
        RunManifest.Write(output, facts);
    }

    private static RunFacts Stated(RunFacts facts, Figures figures) => facts with
    {
        Review = figures.Review,
        Flow = figures.YearFlow is { } flow ? ($"{figures.YearFrom}/{figures.Month}", flow) : null,
    };

    // What a run states: definitions, inputs, reconciliation, timings.
    private static RunFacts Facts(AnalysisPlan plan, CheckedRecords records, StageWatch watch) => new(
        Tool.Version, plan.Name, plan.AsOf, plan.Month, plan.Definitions.Hash, records.IsTolerated,
        [.. records.Sources, .. records.Traces?.Traces ?? []], records.Ledger, watch.Timings);

    // Adds the tables whose columns only this run knows.
    private static Figures Report(
        OutputFolder output, DepartmentRun run, Slides? charts, StageWatch watch, List<TableSchema> tables)
    {
        var (plan, records) = (run.Plan, run.Records);
        watch.Time("keep", () => records.Engine.Keep(plan.CountedBy));
        var data = watch.Time("data quality", () => CheckedData.Judge(records, plan, run.Counted));
        // What names single rows needs no engine: it is written while that counts.
        var recordTables = Task.Run(() => records.WriteTables(output, data.Findings));
        var casesPage = Task.CompletedTask;
        try
        {
            var cases = watch.Time("review", () => ReviewCases.Select(plan, records, run.Packs));
            casesPage = Task.Run(() => ReportFiles.WriteCases(output, cases));
            var counts = watch.Time("count", () => DepartmentCounting.Count(plan, records, data, cases.Pack));
            if (records.Pipeline.ExportRecords) tables.AddRange(watch.Time("export", () => RecordExport.Write(records.Engine, output)));
            var figures = watch.Time("analyse", () => Analyse.Department(counts)) with { Version = Tool.Version };
            watch.Time("tables", () => FigureTables.Write(output.PathOf, counts, figures));
            watch.Time("report", () => ReportFiles.Write(output, figures, charts));
            tables.Add(watch.Time("record tables", () => recordTables.GetAwaiter().GetResult()));
            watch.Time("cases", () => casesPage.GetAwaiter().GetResult());
            return figures;
        }
        finally
        {
            // A run that ends early removes its folder: nothing may still be writing there.
            Task.WhenAny(recordTables).GetAwaiter().GetResult();
            Task.WhenAny(casesPage).GetAwaiter().GetResult();
        }
    }
}
