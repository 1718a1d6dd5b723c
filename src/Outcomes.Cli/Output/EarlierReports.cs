using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Ingestion;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Statistics;

namespace Outcomes.Cli.Output;

/// <summary>Reports to others that were written before: a new one must not give away their small numbers by its difference.</summary>
public static class EarlierReports
{
    /// <summary>The counts that earlier reports showed.</summary>
    /// <exception cref="Failure">A folder is not a report for this audience (exit 2), or has no such table (exit 4).</exception>
    public static ImmutableArray<ImmutableArray<EarlierCell>> Read(Audience audience, IReadOnlyList<string> folders)
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

    /// <summary>An audience as files name it.</summary>
    public static string Word(Audience audience) => audience switch
    {
        Audience.Department => "department",
        Audience.Network => "network",
        _ => "public",
    };
}
