using System.CommandLine;
using System.Text;
using Outcomes.Cli.Places;
using Outcomes.Records;
using Outcomes.Synthetic;
using Outcomes.Synthetic.Export;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes synthesise</c>: an invented department's exports, with known truth.</summary>
internal static class SynthesiseCommand
{
    private const int MaximumProcedures = 10_000_000;

    public static Command Create()
    {
        var procedures = new Option<int?>("--procedures")
        {
            Description = "How many procedures over 36 months; without it the demonstration's own volume.",
            HelpName = "N"
        };
        var seed = new Option<int>("--seed")
        {
            Description = "Sets every draw: the same seed writes the same bytes.",
            DefaultValueFactory = _ => Demo.Options.Seed,
            HelpName = "S"
        };
        var outFolder = new Option<string>("--out")
        {
            Description = "Folder to write to; it must not exist, or be empty.",
            Required = true,
            HelpName = "DIR"
        };
        var command = new Command("synthesise",
            "Writes synthetic source files of an invented department, with mappings, a pipeline and the truth.")
        {
            procedures, seed, outFolder
        };
        command.SetAction(parsed =>
        {
            var n = parsed.GetValue(procedures);
            if (n is < 1 or > MaximumProcedures)
                throw new Failure(ExitCode.Usage, "--procedures is a whole number from 1 to 10000000");
            var folder = parsed.GetRequiredValue(outFolder);
            WriteFolder(Demo.Options with { Procedures = n, Seed = parsed.GetValue(seed) }, "synthetic", folder);
            Console.Out.WriteLine(Path.Combine(folder, SyntheticFolder.Pipeline));
            return (int)ExitCode.Done;
        });
        return command;
    }

    /// <summary>Writes the files of an invented department into a new or empty folder.</summary>
    public static void WriteFolder(SynthesisOptions options, string name, string folder) =>
        NewFolder.Write(folder, into => SyntheticFolder.Write(options, name, relative =>
        {
            var path = Path.Combine(into, relative);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            return new StreamWriter(path, append: false, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), 1 << 16)
            {
                NewLine = "\n"
            };
        }));
}
