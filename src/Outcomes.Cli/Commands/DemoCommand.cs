using System.CommandLine;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Cli.Places;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;
using Outcomes.Synthetic;
using Outcomes.Synthetic.Export;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes demo</c>: invents a department, runs the whole pipeline on it, says where to look.</summary>
internal static class DemoCommand
{
    public static Command Create()
    {
        var outFolder =
            new Option<string>("--out") { Description = "Output folder.", DefaultValueFactory = _ => "outcomes-demo", HelpName = "DIR" };
        var (noWait, replace) = RunCommand.FolderOptions();
        var command = new Command("demo", "Invents a department, runs the whole pipeline on it, and says where to look.")
        {
            outFolder, noWait, replace
        };
        command.SetAction(parsed => (int)Execute(
            parsed.GetRequiredValue(outFolder), new(Wait: !parsed.GetValue(noWait), parsed.GetValue(replace))));
        return command;
    }

    private static ExitCode Execute(string outFolder, FolderOptions options)
    {
        var sources = Path.Combine(Path.GetTempPath(), "outcomes-demo-" + Path.GetRandomFileName());
        using var stop = Interruption.OnStop(Remove);
        try
        {
            SynthesiseCommand.WriteFolder(Demo.Options, Demo.Name, sources);
            var pipeline = PipelineFile.Read(Path.Combine(sources, SyntheticFolder.Pipeline), new Dictionary<string, string>()) with
            {
                Invented = true
            };
            var progress = new Progress(Console.Error, !Console.IsErrorRedirected);
            var request = new RunRequest(null, RunCommand.AsOf(null, pipeline), Slides.Headline) { Folder = options };
            var (code, _) = Pipeline.Run(pipeline, request, outFolder, progress);
            progress.Done();
            Console.Out.WriteLine($"""
                An invented department: {Path.Combine(outFolder, Report.File)} is its monthly report, {Path.Combine(outFolder, Appendix.File)} everything else, {Path.Combine(outFolder, "cases.html")} its review cases, {Path.Combine(outFolder, "tables")} its figures.
                {Tool.Caution}
                """);
            return code;
        }
        finally
        {
            Tidy.Try(Remove);
        }

        void Remove()
        {
            if (Directory.Exists(sources)) Directory.Delete(sources, recursive: true);
        }
    }
}
