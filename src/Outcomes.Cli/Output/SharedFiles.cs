using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Ingestion;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;
using Outcomes.Statistics;

namespace Outcomes.Cli.Output;

/// <summary>
/// The set for a network or the public: report, counts, estimates, manifest. Counts pass <see cref="Protect"/> first, and nothing behind it
/// sees any other number.
/// </summary>
public static class SharedFiles
{
    /// <summary>Writes the set.</summary>
    /// <exception cref="Failure">More rows are quarantined than the pipeline tolerates (exit 4).</exception>
    public static void Write(
        OutputFolder output, AnalysisPlan plan, CheckedRecords records, DisclosureRule rule,
        ImmutableArray<ImmutableArray<EarlierCell>> earlier)
    {
        if (!records.IsTolerated)
            throw NotTolerated(plan.Audience);
        var shared = SharedCounts.Release(CountDepartment.CountProportions(records.Engine, plan, records.ByMonth), rule, earlier);
        SharedTables.Write(output.PathOf, shared);
        File.WriteAllBytes(output.PathOf("report.html"), SharedReport.Utf8(shared with { Version = Tool.Version }));
        DataPackage.Write(output, plan.Name, plan.Audience, []);
        RunManifest.WriteShared(output.PathOf("run.json"), new SharedFacts(
            plan.Name, plan.AsOf, plan.Month, Word(plan.Audience), rule.Threshold, rule.RoundTo, shared.Release.Compared,
            plan.Definitions.Hash, records.Sources.Concat(records.Traces?.Traces ?? []).Select(source => source.Manifest.Sha256)));
    }

    /// <summary>The counts that earlier reports showed.</summary>
    /// <exception cref="Failure">A folder is not a report for this audience (exit 2), or has no such table (exit 4).</exception>
    public static ImmutableArray<ImmutableArray<EarlierCell>> Earlier(Audience audience, IReadOnlyList<string> folders)
    {
        if (folders.Count > 0 && audience == Audience.Department)
            throw new Failure(ExitCode.Usage,
                "--previous is for a report to a network or the public; a report to the department hides nothing");
        foreach (var folder in folders)
            if (Path.Combine(folder, "run.json") is var manifest
                && (!File.Exists(manifest) || RunManifest.AudienceOf(manifest) != Word(audience)))
                throw new Failure(ExitCode.Usage,
                    $"`{folder}` holds no earlier report for {Word(audience)}; name the folder of one with --previous");
        return [.. folders.Select(folder => PublishedCounts.Read(CountsOf(folder), "tables/counts.csv")
            .Select(row => new EarlierCell(row.Measure, row.From, row.To, row.Stratum, row.Level,
                new Count(row.Met, row.Eligible, row.Missing))).ToImmutableArray())];
    }

    public static string CountsOf(string folder) => Path.Combine(folder, "tables", "counts.csv");

    // A set for others has no place for quarantined rows.
    private static Failure NotTolerated(Audience audience) => new(ExitCode.Input,
        $"more rows are quarantined than the pipeline tolerates, so nothing was written for {Word(audience)}; run with audience: "
            + $"department to see which rows and why");

    private static string Word(Audience audience) => audience switch
    {
        Audience.Department => "department",
        Audience.Network => "network",
        _ => "public",
    };
}
