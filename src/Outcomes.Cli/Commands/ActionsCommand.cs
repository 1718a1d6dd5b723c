using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Places;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;
using Spectre.Console;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes actions</c>: lists, closes and exports what review meetings decided.</summary>
internal static class ActionsCommand
{
    private static readonly ImmutableArray<string> Columns = ["Action", "What", "Owner", "Due", "State", "From"];

    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var asOf = RunCommand.AsOfOption();
        var close = new Option<string>("--close") { Description = "Closes this action.", HelpName = "ID" };
        var on = new Option<string>("--on") { Description = "The day it was done or given up; without it as_of.", HelpName = "YYYY-MM-DD" };
        var effect = new Option<string>("--effect") { Description = "What it brought about, in a sentence.", HelpName = "TEXT" };
        var csv = new Option<string>("--csv") { Description = "Writes all actions to this new file.", HelpName = "FILE.csv" };
        var json = new Option<bool>("--json") { Description = "Lists them as JSON." };
        var command = new Command("actions",
            "Lists what review meetings decided, closes an action with its effect, or exports all; for the department alone.")
        {
            pipeline, asOf, close, on, effect, csv, json
        };
        command.SetAction(parsed =>
        {
            var (id, day, said) = (parsed.GetValue(close), parsed.GetValue(on), parsed.GetValue(effect));
            if (id is null && (day ?? said) is not null)
                throw new Failure(ExitCode.Usage, "--on and --effect belong to --close ID, which says what is closed");
            var read = Read(parsed.GetRequiredValue(pipeline));
            var when = RunCommand.AsOf(parsed.GetValue(asOf), read);
            if (id is not null)
                CloseAction.Execute(read, id, day is null ? when : Day(day), said);
            else if (parsed.GetValue(csv) is { } file)
                Export(read, when, file);
            else if (parsed.GetValue(json))
                ActionsDocument.Write(Console.OpenStandardOutput(), Listed(read, when), when);
            else
                List(read, when);
            return (int)ExitCode.Done;
        });
        return command;
    }

    private static PipelineDefinition Read(string path)
    {
        // The sources may not be there yet: actions stand in files of their own.
        var pipeline = PipelineFile.Read(path, new Dictionary<string, string>(), withSources: false);
        CheckedRecords.RequireDepartment(pipeline, "this command prints actions with the cases they came from");
        return pipeline;
    }

    private static DateOnly Day(string text) => ReportedTime.TryParse(text, out DateOnly day) ? day
        : throw new Failure(ExitCode.Usage, $"--on is a date such as 2026-03-31, in the years {ReportedTime.Years}");

    // Open ones first, the most overdue on top; then closed ones, the last on top.
    private static DepartmentAction[] Listed(PipelineDefinition pipeline, DateOnly asOf) =>
    [
        .. pipeline.Actions.Select(entry => entry.Action).OrderBy(action => action.Closed <= asOf)
            .ThenBy(action => action.Closed <= asOf ? -action.Closed.Value.DayNumber : action.Due.DayNumber)
            .ThenBy(action => action.Id, StringComparer.Ordinal),
    ];

    private static void Export(PipelineDefinition pipeline, DateOnly asOf, string file)
    {
        var actions = pipeline.Actions.Select(entry => entry.Action).ToArray();
        var rows = NewFile.Write("--csv", file, place =>
        {
            ActionsTable.Write(place, actions, asOf);
            return actions.Length;
        });
        Line($"{file}: {Wording.Some(rows, "action")}");
    }

    private static void List(PipelineDefinition pipeline, DateOnly asOf)
    {
        var actions = Listed(pipeline, asOf);
        if (actions.Length == 0)
        {
            Line("No action. Name a file under `actions:`, or a folder of minutes under `minutes:`.");
            return;
        }

        var table = new Table { Border = TableBorder.Simple };
        // An id or a date is copied: it never breaks.
        foreach (var column in Columns)
            table.AddColumn(new Spectre.Console.TableColumn(new Text(column)) { NoWrap = column is "Action" or "Due" });
        foreach (var action in actions)
            table.AddRow(new[]
            {
                action.Id, action.What, action.Owner, action.Due.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), State(action, asOf),
                string.Join(", ", action.Cases),
            }.Select(cell => new Text(Plain(cell))));
        AnsiConsole.Write(table);
        Line(ActionWording.Sentence(ActionState.Of(actions, asOf, Month.Of(asOf))));
    }

    private static string State(DepartmentAction action, DateOnly asOf) => ActionWording.State(action, asOf) switch
    {
        "open" or "overdue" => ActionWording.Standing(action, asOf),
        "not_yet" => "decided later",
        "closed" => "closed",
        _ => "closed, say its effect",
    };

    private static string Plain(string text) => Encode.Visible(text).Replace('\u00a0', ' ').ReplaceLineEndings(" ");

    private static void Line(string text) => Console.Out.WriteLine(Plain(text));
}
