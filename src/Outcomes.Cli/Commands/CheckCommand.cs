using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Run;
using Outcomes.Ingestion;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Reporting.Model;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes check</c>: reads everything, prints findings and reconciliation, writes no report.</summary>
internal static class CheckCommand
{
    // So many of each kind fit on one screen.
    private const int Rows = 5;

    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var asOf = RunCommand.AsOfOption();
        var source = RunCommand.SourceOption();
        var command = new Command("check", "Reads everything, prints findings and reconciliation, writes no report; returns what run would.") { pipeline, asOf, source };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(pipeline), parsed.GetValue(asOf), parsed.GetValue(source)));
        return command;
    }

    private static ExitCode Execute(string path, string? asOf, string[]? replaced)
    {
        var pipeline = PipelineFile.Read(path, RunCommand.Replaced(replaced));
        var catalogue = Catalogue.Of(pipeline);
        var when = RunCommand.AsOf(asOf, pipeline);
        using var defined = PipelineRun.Define(pipeline, catalogue, when);
        ExampleChecks.Own(catalogue);
        using var use = RecordStore.Use(pipeline.Store);
        var sources = PipelineRun.Read(pipeline, catalogue);
        var traces = Traces.Read(pipeline, catalogue, sources);
        sources = traces?.Sources ?? sources;
        using var engine = PipelineRun.Open(defined, pipeline, sources);
        var breaches = engine.Judge();
        var ledger = PipelineRun.KeepLedger(pipeline, catalogue, sources, breaches, traces);
        var tolerated = ledger.QuarantinedShare <= pipeline.Tolerance;
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{(tolerated ? "A run would report" : "A run would refuse")}: {ledger.Total.Quarantined} of {ledger.Total.RowsIn} rows quarantined, {pipeline.Tolerance:P0} tolerated."));
        var findings = FindingList.Of(sources, catalogue, breaches, ledger, pipeline.Strict);
        if (traces is not null) findings.AddRange(Traces.Findings(traces, catalogue.Dictionary, ledger, pipeline.Strict));
        engine.SetAside(ledger.SetAside());
        Print(ledger.Files.Append(ledger.Total));
        var questions = Questions(pipeline, catalogue, engine, sources, findings, PipelineRun.LastEnded(when));
        Print(FindingGroup.Of(findings), findings);
        Print(questions);
        Print(ActionState.Of(pipeline.Actions.Select(entry => entry.Action), when, PipelineRun.LastEnded(when)), when);
        if (Review.NotRun(engine, catalogue.Flags) is { Length: > 0 } skipped)
            Console.Out.WriteLine($"\nFlags that cannot run, for want of fields: {string.Join(", ", skipped.Select(flag => flag.Id))}.");
        if (traces is not null) PrintTraces(pipeline, engine, PipelineRun.LastEnded(when));
        return tolerated ? ExitCode.Done : ExitCode.Input;
    }

    // What whole months say, and what is missing; both belong to what the ledger lets in. Adds its findings to those of the rows.
    private static ImmutableArray<DataQuestion> Questions(
        Pipeline pipeline, Catalogue catalogue, Engine engine, IReadOnlyList<IngestedSource> sources, List<Finding> findings, Month month)
    {
        var records = engine.RecordsByMonth().ToDictionary(row => row.Month, row => row.Records);
        var yearFrom = PipelineRun.YearFrom(pipeline, records, month);
        var fields = DataQuality.Fields(pipeline, catalogue, engine);
        if (pipeline.ShippedRules) findings.AddRange([.. DataQuality.PossibleDuplicates(engine, sources), .. DataQuality.SiteMonths(engine, fields, sources, month)]);
        if (pipeline.UnusualRecords) findings.AddRange(UnusualRecordFindings.Of(engine, sources));
        if (PipelineRun.Counted(pipeline) is { } counted)
        {
            var capture = Capture.Of(counted, records, Capture.Sites(counted, engine), yearFrom, month);
            findings.AddRange([.. counted.Findings, .. Capture.Findings(counted, capture)]);
        }

        var byMonth = engine.CompletenessByMonth(fields.Select(field => field.Name)).Where(row => row.Month <= month);
        return DataQuality.Questions(fields, byMonth, yearFrom, sources, findings, DataQuality.Needs(pipeline, catalogue, engine));
    }

    // Questions in a row with one answer share it.
    private static void Print(ImmutableArray<DataQuestion> questions)
    {
        Console.Out.WriteLine("\nMissing in the last 12 months: what headline figures need first, then the largest shares");
        var (asked, absent) = (questions.Where(question => !question.Columns.IsEmpty).ToArray(), questions.Where(question => question.Columns.IsEmpty).Select(question => question.Title).ToArray());
        if (questions.IsEmpty) Console.Out.WriteLine("  No field that a figure rests on is missing in more than 5 % of records.");
        for (var i = 0; i < Math.Min(asked.Length, Rows); i++)
        {
            Console.Out.WriteLine($"  {asked[i].WhatIsMissing,9}  {asked[i].Title}, column {string.Join("; ", asked[i].Columns)}, {(asked[i].Since is { FromTheStart: false } ? "since " : "")}{asked[i].SinceWhen}");
            if (i + 1 == Math.Min(asked.Length, Rows) || asked[i + 1].Ask != asked[i].Ask) Console.Out.WriteLine($"             {asked[i].Ask}");
        }

        More(asked.Length, "fields");
        if (absent.Length > 0)
            Console.Out.WriteLine($"  Not collected: {string.Join(", ", absent.Take(Rows))}{(absent.Length > Rows ? string.Create(CultureInfo.InvariantCulture, $" and {absent.Length - Rows} more") : "")}.\n             Ask for these columns in the export, and map them.");
    }

    private static void Print(IReadOnlyList<FindingGroup> groups, IReadOnlyList<Finding> findings)
    {
        Console.Out.WriteLine("\nFindings, worst first");
        if (groups.Count == 0) Console.Out.WriteLine("  No findings.");
        foreach (var group in groups.Take(Rows))
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {group.Findings,9}  {Word(group.Severity)}: {group.Rule}{(group.Columns.IsEmpty ? "" : $", column {string.Join("; ", group.Columns)}")}{First(group, findings)}\n             {FirstSentence(group.Explanation)}"));
        More(groups.Count, "rules");
    }

    private static string First(FindingGroup group, IReadOnlyList<Finding> findings) =>
        findings.FirstOrDefault(finding => finding.Rule == group.Rule && finding.Severity == group.Severity && finding.Explanation == group.Explanation && finding.Line > 0) is { } first
            ? string.Create(CultureInfo.InvariantCulture, $", {(group.Findings == 1 ? "at" : "first at")} {first.File}:{first.Line}") : "";

    private static void PrintTraces(Pipeline pipeline, Engine engine, Month month)
    {
        var records = engine.RecordsByMonth().ToDictionary(row => row.Month, row => row.Records);
        var report = Traces.Report(engine, records, PipelineRun.YearFrom(pipeline, records, month), month);
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Traces: {report.WithTrace} of {report.Records} records of the last 12 months have one. Covering enough of the window: {string.Join(", ", report.Signals.Select(signal => string.Create(CultureInfo.InvariantCulture, $"{signal.Sufficient} for {signal.Title}")))}."));
    }

    private static void Print(ActionState actions, DateOnly asOf)
    {
        if (actions.IsEmpty) return;
        Console.Out.WriteLine($"\nActions: {ActionWording.Open(actions)}.");
        foreach (var action in actions.Open.Take(actions.Overdue))
            Console.Out.WriteLine($"  {ActionWording.Standing(action, asOf).Replace('\u00a0', ' ')}: {action.Id}, {action.What} ({action.Owner}), {action.AgeAt(asOf)} days old");
        foreach (var action in actions.WithoutEffect)
            Console.Out.WriteLine($"  closed without an effect: {action.Id}, {action.What} ({action.Owner}); say in `effect` what it brought about");
    }

    private static string FirstSentence(string text) => text.IndexOf(". ", StringComparison.Ordinal) is var end and > 0 ? text[..(end + 1)] : text;

    private static void More(int all, string things)
    {
        if (all > Rows) Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"             ... and {all - Rows} more {things}; the report lists them"));
    }

    // The name stands last, so that a long one needs no second line.
    private static void Print(IEnumerable<Reconciliation> files)
    {
        Console.Out.WriteLine("\n    rows in   accepted superseded  withdrawn quarantined  file");
        foreach (var file in files)
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {file.RowsIn,9} {file.Accepted,10} {file.Superseded,10} {file.Withdrawn,10} {file.Quarantined,11}  {file.File}"));
    }

    private static string Word(Severity severity) => severity switch { Severity.Refuse => "quarantined", Severity.Blank => "made missing", _ => "please check" };
}
