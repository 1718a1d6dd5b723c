using System.CommandLine;
using Outcomes.Analysis;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Cli.Places;
using Outcomes.Records;
using Outcomes.Reporting.Meeting;
using Outcomes.Reporting.Page;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes meeting</c>: the review meeting of a month as one page to show, to fill in and to print.</summary>
internal static class MeetingCommand
{
    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var month = RunCommand.MonthOption();
        var asOf = RunCommand.AsOfOption();
        var source = RunCommand.SourceOption();
        var outFile = new Option<string>("--out")
        {
            Description = "Where the page goes; without it meeting-<month>.html beside the month's folder in outcomes-out/<pipeline>. "
                + "No file is ever overwritten.",
            HelpName = "FILE.html"
        };
        var command = new Command("meeting",
            "Writes the month's review meeting as one page: agenda, figures, cases, sides to fill in, minutes; for the department alone.")
        {
            pipeline, month, asOf, source, outFile
        };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(pipeline), RunCommand.ReportMonth(parsed.GetValue(month)),
            parsed.GetValue(asOf), parsed.GetValue(source), parsed.GetValue(outFile)));
        return command;
    }

    private static ExitCode Execute(string path, Month? month, string? asOf, string[]? replaced, string? outFile)
    {
        var pipeline = PipelineFile.Read(path, RunCommand.Replaced(replaced));
        var when = RunCommand.AsOf(asOf, pipeline);
        RunCommand.RefuseLater(month, when);
        using var records = CheckedRecords.OpenForDepartment(pipeline, when);
        records.RequireTolerated();
        var of = month ?? Pipeline.LastEnded(when);
        // The pack and the plan as a run into the usual folder makes them.
        var packs = EarlierPacks.Beside(RunCommand.DefaultFolder(pipeline, of), pipeline.Name, of);
        var plan = records.Defined.Plan(of);
        plan = plan with { Changes = EarlierPlans.Compare(plan.Changes, packs) };
        var cases = ReviewCases.Select(plan, records, packs).Pack;
        var counted = CheckedData.IndependentCounts(pipeline);
        var figures = Analyse.Department(DepartmentCounting.Count(plan, records, CheckedData.Judge(records, plan, counted), cases));
        var content = new MeetingContent(cases, figures, MeetingAgenda.Plan(cases, figures.Actions.Open.Length));
        var place = outFile ?? DefaultPlace(pipeline, of);
        NewFile.Write([new("--out", place, MeetingPage.Utf8(content))]);
        Console.Out.WriteLine(Encode.Visible(place));
        Console.Out.WriteLine(Tool.Caution);
        return ExitCode.Done;
    }

    // Beside the month's folder, not in it: a run replaces that folder as a whole, and stops where it holds a file of somebody else's.
    private static string DefaultPlace(PipelineDefinition pipeline, Month month)
    {
        var folder = Path.GetDirectoryName(RunCommand.DefaultFolder(pipeline, month))!;
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output, $"`{folder}` cannot be made; name a file in a folder that can be written with --out");
        }

        return Path.Combine(folder, $"meeting-{month}.html");
    }
}
