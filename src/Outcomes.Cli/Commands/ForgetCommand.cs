using System.CommandLine;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Records;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes forget</c>: deletes the record-level store of a pipeline.</summary>
internal static class ForgetCommand
{
    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var command = new Command("forget", "Deletes the record-level store of a pipeline; sources and reports stay.") { pipeline };
        command.SetAction(parsed =>
        {
            var read = PipelineFile.Read(parsed.GetRequiredValue(pipeline), new Dictionary<string, string>());
            Console.Out.WriteLine(RecordStore.Forget(read.Store) ? "The record store is deleted." : "There was no record store.");
            if (File.Exists(Path.Combine(read.Store, ReleaseNotes.FileName)))
                Console.Out.WriteLine($"`{ReleaseNotes.FileName}` keeps the counts that were given to others, for the sets that follow; it "
                    + "holds no record.");
            return (int)ExitCode.Done;
        });
        return command;
    }
}
