using System.CommandLine;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Cli.Places;
using Outcomes.Explore;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Answers;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes explore</c>: a researcher's questions, answered on a local web page or on the terminal.</summary>
internal static class ExploreCommand
{
    private sealed record Asked(string Path, string? AsOf, Month? Month, string[]? Replaced);

    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var (month, asOf, source) = (RunCommand.MonthOption(), RunCommand.AsOfOption(), RunCommand.SourceOption());
        var port = new Option<int>("--port") { Description = "The port to listen on; without it one that is free.", HelpName = "N" };
        port.Validators.Add(given =>
        {
            if (given.GetValueOrDefault<int>() is < 0 or > 65_535) given.AddError("--port is a whole number from 1 to 65535");
        });
        var address = new Option<string>("--address")
        {
            Description = "The loopback address to listen on; any other is refused.",
            DefaultValueFactory = _ => "127.0.0.1",
            HelpName = "ADDRESS"
        };
        var noOpen = new Option<bool>("--no-open") { Description = "Opens no browser; the address stands on the first line." };
        var ask = new Option<string>("--ask")
        {
            Description = "Answers one question here and ends: a question file, or the question as a page shows it.",
            HelpName = "QUESTION"
        };
        var format = new Option<string>("--format")
        {
            Description = "How --ask answers: csv or json.",
            DefaultValueFactory = _ => "csv",
            HelpName = "csv|json"
        };
        format.AcceptOnlyFromAmong("csv", "json");
        var command = new Command("explore", "Opens a local page to ask questions of the records; for the department alone.")
        {
            pipeline, month, asOf, source, port, address, noOpen, ask, format
        };
        command.SetAction(parsed =>
        {
            var asked = new Asked(parsed.GetRequiredValue(pipeline), parsed.GetValue(asOf),
                RunCommand.ReportMonth(parsed.GetValue(month)), parsed.GetValue(source));
            return (int)(parsed.GetValue(ask) is { } question
                ? Answer(asked, question, parsed.GetValue(format)!)
                : Serve(asked, parsed.GetValue(address)!, parsed.GetValue(port), parsed.GetValue(noOpen)));
        });
        return command;
    }

    private static ExitCode Serve(Asked asked, string address, int port, bool noOpen)
    {
        ExploreServer.RequireLoopback(address);
        using var records = Open(asked, out var source);
        using var room = new Room(source);
        var server = ExploreServer.Start(room, address, port, TimeProvider.System).GetAwaiter().GetResult();
        Interruption.Serves();
        Console.Out.WriteLine(server.Address);
        Console.Out.Flush();
        Console.Error.WriteLine($"{Tool.Name}: open the address above; Ctrl-C ends it. {Tool.Caution}");
        _ = room.Prepare();
        if (!noOpen)
            OpenBrowser.At(server.AddressForOnce());
        server.Serve().GetAwaiter().GetResult();
        return ExitCode.Done;
    }

    private static ExitCode Answer(Asked asked, string question, string format)
    {
        var definition = question.Contains('=', StringComparison.Ordinal) ? QuestionText.Parse(question)
            : QuestionText.Read(question, question);
        using var records = Open(asked, out var source);
        using var room = new Room(source);
        var view = room.Answer(definition, withReport: false, CancellationToken.None).GetAwaiter().GetResult();
        using var output = Console.OpenStandardOutput();
        output.Write(format == "json" ? AnswerFiles.Json(view) : AnswerFiles.Csv(view));
        return ExitCode.Done;
    }

    private static CheckedRecords Open(Asked asked, out RoomSource source)
    {
        var pipeline = PipelineFile.Read(asked.Path, RunCommand.Replaced(asked.Replaced));
        var when = RunCommand.AsOf(asked.AsOf, pipeline);
        RunCommand.RefuseLater(asked.Month, when);
        var records = CheckedRecords.OpenForDepartment(pipeline, when);
        try
        {
            records.RequireTolerated();
            var month = asked.Month ?? Pipeline.LastEnded(when);
            if (!records.ByMonth.Keys.Any(each => each <= month))
                throw new Failure(ExitCode.Input, $"no record is of {month} or earlier, so there is nothing to explore");
            source = Source(records, asked.Path, month);
            return records;
        }
        catch
        {
            records.Dispose();
            throw;
        }
    }

    private static RoomSource Source(CheckedRecords records, string path, Month month)
    {
        var pipeline = records.Pipeline;
        // The plan and the pack as a run into the usual folder makes them.
        var packs = EarlierPacks.Beside(RunCommand.DefaultFolder(pipeline, month), pipeline.Name, month);
        var plan = records.Defined.Plan(month);
        plan = plan with { Changes = EarlierPlans.Compare(plan.Changes, packs) };
        return new()
        {
            Engine = records.Engine,
            Plan = plan,
            Records = records.ByMonth,
            Pipeline = path,
            Version = Tool.Version,
            Count = () =>
            {
                var data = CheckedData.Judge(records, plan, CheckedData.IndependentCounts(pipeline));
                var cases = ReviewCases.Select(plan, records, packs).Pack;
                return new(DepartmentCounting.Count(plan, records, data, cases), cases, data.Findings);
            },
            Save = (name, text) => Save(pipeline, name, text),
        };
    }

    private static string Save(PipelineDefinition pipeline, string name, string text)
    {
        var folder = Path.Combine(pipeline.Folder, QuestionFiles.Folder);
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output, $"the folder `{QuestionFiles.Folder}` beside the pipeline cannot be made");
        }

        var file = $"{QuestionFiles.Folder}/{name}.yaml";
        if (Path.Exists(Path.Combine(folder, name + ".yaml")))
            throw new Failure(ExitCode.Output, $"`{file}` is there already, and no file is ever overwritten; choose another name");
        NewFile.Write([new("Save", Path.Combine(folder, name + ".yaml"), System.Text.Encoding.UTF8.GetBytes(text))]);
        return file;
    }
}
