using System.CommandLine;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Cli.Places;
using Outcomes.Records;
using Outcomes.Reporting;
using Outcomes.Reporting.Page;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes export</c>: the analysis set of a pipeline, for researchers of the department.</summary>
internal static class ExportCommand
{
    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var month = RunCommand.MonthOption();
        var asOf = RunCommand.AsOfOption();
        var source = RunCommand.SourceOption();
        var outFolder = new Option<string>("--out")
        {
            Description = "Folder to write to; it must not exist, or be empty.",
            HelpName = "DIR",
            Required = true
        };
        var command = new Command("export",
            "Writes tidy tables of the records with a codebook and scripts that read them; for the department alone.")
        {
            pipeline, outFolder, month, asOf, source
        };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(pipeline), parsed.GetRequiredValue(outFolder),
            RunCommand.ReportMonth(parsed.GetValue(month)), parsed.GetValue(asOf), parsed.GetValue(source)));
        return command;
    }

    private static ExitCode Execute(string path, string outFolder, Month? month, string? asOf, string[]? replaced)
    {
        var pipeline = PipelineFile.Read(path, RunCommand.Replaced(replaced));
        CheckedRecords.RequireDepartment(pipeline, "this command writes single records");
        if (!pipeline.ExportRecords)
            throw new Failure(ExitCode.Usage, $"`{pipeline.File}` has `data: none`, so records are not written out; "
                + "use a pipeline with `data: records`");
        var when = RunCommand.AsOf(asOf, pipeline);
        RunCommand.RefuseLater(month, when);
        NewFolder.MustBeEmpty(outFolder);
        IReadOnlyList<(string Table, long Rows)> written = [];
        NewFolder.Write(outFolder, folder =>
        {
            using var records = CheckedRecords.OpenForDepartment(pipeline, when, AnalysisSetFiles.Parquet(folder));
            records.RequireTolerated();
            written = AnalysisSetFiles.Write(folder, records, records.Defined.Plan(month ?? Pipeline.LastEnded(when)));
        });
        foreach (var (table, rows) in written)
            Console.Out.WriteLine(Encode.Visible($"{table}: {Wording.Some(rows, "row")}".Replace('\u00a0', ' ')));
        Console.Out.WriteLine(
            Encode.Visible($"{Path.Combine(outFolder, "codebook.html")} says what they hold; record level, for the department alone."));
        Console.Out.WriteLine(Tool.Caution);
        return ExitCode.Done;
    }
}
