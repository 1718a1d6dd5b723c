using System.CommandLine;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Drafting;
using Outcomes.Cli.Output;
using Outcomes.Cli.Places;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes init</c>: a starter pipeline folder that runs as it is, to be edited.</summary>
internal static class InitCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("DIR") { Description = "The folder to make; it must not exist, or be empty." };
        var from = new Option<string[]>("--from")
        {
            Description = "An export to draft the mapping from; a second one if attempts are a file of their own."
        };
        var sheet = new Option<string>("--sheet")
        {
            Description = "The sheet to draft from, where the export is a workbook of several.",
            HelpName = "NAME"
        };
        var command = new Command("init", "Writes a starter pipeline folder to edit: with a small invented export, or drafted from yours.")
        {
            folder, from, sheet
        };
        command.SetAction(parsed => (int)(parsed.GetValue(from) is { Length: > 0 } exports
            ? Draft(parsed.GetRequiredValue(folder), exports, parsed.GetValue(sheet))
            : Execute(parsed.GetRequiredValue(folder))));
        return command;
    }

    private static ExitCode Draft(string folder, string[] exports, string? sheet)
    {
        NewFolder.MustBeEmpty(folder);
        // Headings are not ours: what acts in them is shown instead.
        using var said = new StringWriter();
        PipelineDraft.Write(folder, exports, sheet, said);
        Console.Out.Write(Encode.Visible(said.ToString()));
        Console.Out.WriteLine($"""
            Then: {Tool.Name} check {Path.Combine(folder, "pipeline.yaml")}   and   {Tool.Name} run {Path.Combine(folder, "pipeline.yaml")}
            {Tool.Caution}
            """);
        return ExitCode.Done;
    }

    private static ExitCode Execute(string folder)
    {
        NewFolder.Write(folder, into =>
        {
            foreach (var name in (string[])["pipeline.yaml", "mapping.yaml", "export.csv"])
            {
                using var stream = typeof(InitCommand).Assembly.GetManifestResourceStream("starter/" + name)!;
                using var file = File.Create(Path.Combine(into, name));
                stream.CopyTo(file);
            }

            CaseSalt.Make(into);
            Launchers.Write(into);
        });
        Console.Out.WriteLine($"""
            {folder} holds pipeline.yaml, mapping.yaml and a small invented export.csv.
            1. Put your export in place of export.csv.  2. Edit mapping.yaml: your headings and codes.
            3. {Tool.Name} check {Path.Combine(folder, "pipeline.yaml")}   4. {Tool.Name} run {Path.Combine(folder, "pipeline.yaml")}
            {Tool.Caution}
            """);
        return ExitCode.Done;
    }
}
