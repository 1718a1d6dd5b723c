using System.CommandLine;
using Outcomes.Cli.Run;
using Outcomes.Records;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes init</c>: a starter pipeline folder that runs as it is, to be edited.</summary>
internal static class InitCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("DIR") { Description = "The folder to make; it must not exist, or be empty." };
        var command = new Command("init", "Writes a starter pipeline folder to edit: pipeline, mapping and a small invented export.") { folder };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(folder)));
        return command;
    }

    private static ExitCode Execute(string folder)
    {
        NewFolder.Make(folder);
        foreach (var name in (string[])["pipeline.yaml", "mapping.yaml", "export.csv"])
        {
            using var stream = typeof(InitCommand).Assembly.GetManifestResourceStream("starter/" + name)!;
            using var file = File.Create(Path.Combine(folder, name));
            stream.CopyTo(file);
        }

        Console.Out.WriteLine($"""
            {folder} holds pipeline.yaml, mapping.yaml and a small invented export.csv.
            1. Put your export in place of export.csv.  2. Edit mapping.yaml: your headings and codes.
            3. {Tool.Name} check {Path.Combine(folder, "pipeline.yaml")}   4. {Tool.Name} run {Path.Combine(folder, "pipeline.yaml")}
            {Tool.Caution}
            """);
        return ExitCode.Done;
    }
}
