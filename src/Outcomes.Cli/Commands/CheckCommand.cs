using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Cli.Definitions;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Reporting.Page;

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
        var command =
            new Command("check", "Reads everything, prints findings and reconciliation, writes no report; returns what run would.")
            {
                pipeline, asOf, source
            };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(pipeline), parsed.GetValue(asOf), parsed.GetValue(source)));
        return command;
    }

    private static ExitCode Execute(string path, string? asOf, string[]? replaced)
    {
        var pipeline = PipelineFile.Read(path, RunCommand.Replaced(replaced));
        var when = RunCommand.AsOf(asOf, pipeline);
        var defined = DefinedPipeline.Open(pipeline, when);
        ExampleChecks.Own(defined.Definitions);
        using var records = CheckedRecords.Judge(ReadRecords.Read(defined));
        var plan = defined.Plan(Pipeline.LastEnded(when));
        var (ledger, tolerated) = (records.Ledger, records.IsTolerated);
        Line(string.Create(CultureInfo.InvariantCulture,
            $"{(tolerated ? "A run would report" : "A run would refuse")}: {ledger.Total.Quarantined} of {ledger.Total.RowsIn} rows "
                + $"quarantined, {pipeline.Tolerance:P0} tolerated.{(ledger.WithRepeatedKeys.Any() ? $"\n{records.WhyRefused}." : "")}"));
        Print(ledger.Files.Append(ledger.Total));
        var data = CheckedData.Judge(records, plan, CheckedData.IndependentCounts(pipeline));
        Print(data.State.Findings, data.Findings);
        Print(data.State.Questions);
        Print(ActionState.Of(plan.Actions, when, plan.Month), when);
        if (RuleNotRun.Flags(data.State.SkippedFlags).ToArray() is { Length: > 0 } skipped)
            Line($"\nFlags that cannot run, for want of fields: {string.Join(", ", skipped.Select(flag => flag.Id))}.");
        if (records.CountTraces(plan) is { } traces) Print(traces);
        return tolerated ? ExitCode.Done : ExitCode.Input;
    }

    // Questions in a row with one answer share it.
    private static void Print(ImmutableArray<DataQuestion> questions)
    {
        Line("\nMissing in the last 12 months: what headline figures need first, then the largest shares");
        var (asked, absent) = (questions.Where(question => !question.Columns.IsEmpty).ToArray(),
            questions.Where(question => question.Columns.IsEmpty).Select(question => question.Title).ToArray());
        if (questions.IsEmpty) Line("  No field that a figure rests on is missing in more than 5 % of records.");
        for (var i = 0; i < Math.Min(asked.Length, Rows); i++)
        {
            Line($"  {asked[i].WhatIsMissing(),9}  {asked[i].Title}, "
                + $"column {string.Join("; ", asked[i].Columns)}, {(asked[i].Since is { FromTheStart: false } ? "since " : "")}"
                + $"{asked[i].SinceWhen()}");
            if (i + 1 == Math.Min(asked.Length, Rows) || asked[i + 1].Ask() != asked[i].Ask())
                Line($"             {asked[i].Ask()}");
        }

        More(asked.Length, "fields");
        if (absent.Length > 0)
            Line($"  Not collected: {string.Join(", ", absent.Take(Rows))}"
                + $"{(absent.Length > Rows ? string.Create(CultureInfo.InvariantCulture, $" and {absent.Length - Rows} more") : "")}.\n"
                + "             Ask for these columns in the export, and map them.");
    }

    private static void Print(IReadOnlyList<FindingGroup> groups, IReadOnlyList<Finding> findings)
    {
        Line("\nFindings, worst first");
        if (groups.Count == 0) Line("  No findings.");
        foreach (var group in groups.Take(Rows))
            Line(string.Create(CultureInfo.InvariantCulture,
                $"  {group.Findings,9}  {Word(group.Severity)}: {group.Rule}"
                    + $"{(group.Columns.IsEmpty ? "" : $", column {string.Join("; ", group.Columns)}")}{First(group, findings)}\n"
                    + $"             {FirstSentence(group.Explanation)}"));
        More(groups.Count, "rules");
    }

    private static string First(FindingGroup group, IReadOnlyList<Finding> findings) =>
        findings.FirstOrDefault(finding => finding.Rule == group.Rule && finding.Severity == group.Severity
            && finding.Explanation == group.Explanation && finding.Line > 0) is { } first
            ? string.Create(CultureInfo.InvariantCulture, $", {(group.Findings == 1 ? "at" : "first at")} {first.File}:{first.Line}") : "";

    private static void Print(TraceFigures traces) => Line(
        $"Traces: {traces.WithTrace} of {traces.Records} records of the last 12 months have one. Covering enough of the window: "
        + $"{string.Join(", ", traces.Signals.Select(signal => $"{signal.Sufficient} for {signal.Title}"))}.");

    private static void Print(ActionState actions, DateOnly asOf)
    {
        if (actions.IsEmpty) return;
        Line($"\nActions: {ActionWording.Open(actions)}.");
        foreach (var action in actions.Open.Take(actions.Overdue))
            Line($"  {ActionWording.Standing(action, asOf).Replace('\u00a0', ' ')}: {action.Id}, {action.What} "
                + $"({action.Owner}), {action.AgeAt(asOf)} days old");
        foreach (var action in actions.WithoutEffect)
            Line(
                $"  closed without an effect: {action.Id}, {action.What} ({action.Owner}); say in `effect` what it brought about");
    }

    private static string FirstSentence(string text) =>
        text.IndexOf(". ", StringComparison.Ordinal) is var end and > 0 ? text[..(end + 1)] : text;

    private static void More(int all, string things)
    {
        if (all > Rows)
            Line(string.Create(CultureInfo.InvariantCulture,
                $"             ... and {all - Rows} more {things}; the report lists them"));
    }

    // The name stands last, so that a long one needs no second line.
    private static void Print(IEnumerable<Reconciliation> files)
    {
        Line("\n    rows in   accepted superseded  withdrawn quarantined  file");
        foreach (var file in files)
            Line(string.Create(CultureInfo.InvariantCulture,
                $"  {file.RowsIn,9} {file.Accepted,10} {file.Superseded,10} {file.Withdrawn,10} {file.Quarantined,11}  {file.File}"));
    }

    private static string Word(Severity severity) =>
        severity switch { Severity.Refuse => "quarantined", Severity.Blank => "made missing", _ => "please check" };

    // Headings and file names are not ours: what acts in them is shown instead.
    private static void Line(string text) => Console.Out.WriteLine(Encode.Visible(text));
}
