using System.Collections.Immutable;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Reporting.Model;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;
using Outcomes.Statistics;

namespace Outcomes.Cli.Run;

/// <summary>What a set for others is made from.</summary>
public sealed record SharedRun(
    Dictionary<Month, long> Records, Month Month, DateOnly AsOf, DisclosureRule Rule, ImmutableArray<ImmutableArray<EarlierCell>> Earlier,
    IReadOnlyList<IngestedSource> Sources, IReadOnlyList<IngestedSource> Traces);

/// <summary>
/// The set for a network or the public: report, counts, estimates, manifest. Counts pass <see cref="Protect"/> first, and nothing behind it sees any other number.
/// </summary>
public static class SharedFiles
{
    public static void Write(OutputFolder output, Pipeline pipeline, Catalogue catalogue, Engine engine, SharedRun run)
    {
        ImmutableArray<Measure> measures = [.. catalogue.Measures.Where(measure => measure.Kind == MeasureKind.Proportion)];
        var counts = engine.Count(measures, [.. pipeline.Strata.Select(word => word.Word)]);
        var book = PipelineRun.Book(pipeline, counts, run.Records, run.Month);
        var release = Protect.Of([.. InOrderOfWorth(pipeline, measures).Where(measure => book.Whole(measure.Id) is not null).Select(measure => Series(pipeline, book, measure))], book.First, run.Rule, run.Earlier);
        var rows = release.Cells.Where(cell => cell.Kind != CellKind.Recent).DistinctBy(cell => (cell.Measure, cell.Stratum, cell.Level, cell.From, cell.To))
            .Select(cell => new CountsRow(cell.Measure, cell.From == cell.To ? cell.From.ToString() : $"{cell.From}/{cell.To}", cell.Stratum, cell.Level, cell.Count)).ToArray();
        OutputTables.Counts(output.PathOf("tables/counts.csv"), rows);
        OutputTables.Estimates(output.PathOf("tables/estimates.csv"), rows.Select(row => new EstimatesRow(row.Measure, row.Period, row.Stratum, row.Level, row.Count, Proportion.Estimate(row.Count))));
        File.WriteAllBytes(output.PathOf("report.html"), SharedReport.Utf8(new SharedModel(
            pipeline.Name, run.Month, run.AsOf, pipeline.Invented, Tool.Version, catalogue.Hash,
            [.. pipeline.Assume.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => new Assumption(pair.Key, pair.Value))], measures, release)));
        DataPackage.Write(output, pipeline.Name, pipeline.Audience);
        RunManifest.WriteShared(output.PathOf("run.json"), new SharedFacts(
            pipeline.Name, run.AsOf, run.Month, Word(pipeline.Audience), run.Rule.Threshold, run.Rule.RoundTo, release.Compared, catalogue.Hash,
            run.Sources.Concat(run.Traces).Select(source => source.Manifest.Sha256)));
    }

    /// <summary>The counts that earlier reports showed.</summary>
    /// <exception cref="Failure">A folder is not a report for this audience (exit 2), or has no such table (exit 4).</exception>
    public static ImmutableArray<ImmutableArray<EarlierCell>> Earlier(Audience audience, IReadOnlyList<string> folders)
    {
        if (folders.Count > 0 && audience == Audience.Department)
            throw new Failure(ExitCode.Usage, "--previous is for a report to a network or the public; a report to the department hides nothing");
        foreach (var folder in folders)
            if (Path.Combine(folder, "run.json") is var manifest && (!File.Exists(manifest) || RunManifest.AudienceOf(manifest) != Word(audience)))
                throw new Failure(ExitCode.Usage, $"`{folder}` holds no earlier report for {Word(audience)}; name the folder of one with --previous");
        return [.. folders.Select(folder => PublishedCounts.Read(CountsOf(folder), "tables/counts.csv")
            .Select(row => new EarlierCell(row.Measure, row.From, row.To, row.Stratum, row.Level, new Count(row.Met, row.Eligible, row.Missing))).ToImmutableArray())];
    }

    public static string CountsOf(string folder) => Path.Combine(folder, "tables", "counts.csv");

    /// <summary>A set for others has no place for the rows to mend.</summary>
    public static Failure NotTolerated(Pipeline pipeline) => new(ExitCode.Input,
        $"more rows are quarantined than the pipeline tolerates, so nothing was written for {Word(pipeline.Audience)}; run with audience: department to see which rows and why");

    private static string Word(Audience audience) => audience switch
    {
        Audience.Department => "department",
        Audience.Network => "network",
        _ => "public",
    };

    // Headline measures first, as the pipeline lists them: a measure gives way to those before it.
    private static IEnumerable<Measure> InOrderOfWorth(Pipeline pipeline, ImmutableArray<Measure> measures) =>
        measures.OrderBy(measure => Place(pipeline, measure) is var at && at < 0 ? int.MaxValue : at);

    private static int Place(Pipeline pipeline, Measure measure) => pipeline.Headline.Select(word => word.Word).ToImmutableArray().IndexOf(measure.Id);

    private static MeasureSeries Series(Pipeline pipeline, SeriesBook book, Measure measure) => new(
        measure.Id, Place(pipeline, measure) >= 0, book.Whole(measure.Id)!.Counts,
        [.. book.Cells(measure.Id).Where(cell => cell.Stratum != CountRow.All && StratumReport.Allowed(measure, cell.Stratum))
            .Select(cell => new LevelSeries(cell.Stratum, cell.Level, book.Of(measure.Id, cell.Stratum, cell.Level)!.Counts))]);
}
