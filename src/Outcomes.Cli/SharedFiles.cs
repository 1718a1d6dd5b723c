using Outcomes.Analysis;
using Outcomes.Cli.Output;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli;

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
        EarlierReports earlier, Action print)
    {
        if (!records.IsTolerated)
            throw NotTolerated(records, plan.Audience);
        var (shared, noted) = SharedCounts.Release(
            CountDepartment.CountProportions(records.Engine, plan, records.ByMonth), rule, earlier.Releases(records.Sources));
        SharedTables.Write(output.PathOf, shared);
        File.WriteAllBytes(output.PathOf("report.html"), SharedReport.Utf8(shared with { Version = Tool.Version }));
        print();
        DataPackage.Write(output, plan.Audience, []);
        RunManifest.WriteShared(output, new SharedFacts(
            plan.Name, plan.AsOf, plan.Month, EarlierReports.Word(plan.Audience), rule.Threshold, rule.RoundTo, earlier.Compared,
            plan.Definitions.Hash, shared.Measures));
        // Before the set is in its place: nothing is given out that is not noted.
        earlier.Note(shared.Measures, records.Sources, noted);
    }

    // A set for others has no place for quarantined rows.
    private static Failure NotTolerated(CheckedRecords records, Audience audience) => new(ExitCode.Input,
        $"{records.WhyRefused}; nothing was written for {EarlierReports.Word(audience)}; "
            + $"run with audience: "
            + $"department to see which rows and why");
}
