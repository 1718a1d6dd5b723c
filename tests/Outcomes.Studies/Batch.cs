using System.Text.Json;
using Outcomes.Cli.Commands;
using Outcomes.Records;

namespace Outcomes.Studies;

/// <summary>
/// The tool in one process for many runs, as the attacks on sets for others need: starting a process for each would take
/// longer than the run.
/// </summary>
internal static class Batch
{
    public static int Run(TextReader input, TextWriter output)
    {
        while (input.ReadLine() is { } line)
        {
            var said = new StringWriter();
            Console.SetOut(TextWriter.Null);
            Console.SetError(said);
            int code;
            try
            {
                code = (int)CommandLine.Run(JsonSerializer.Deserialize<string[]>(line)!);
            }
            catch (Failure failure)
            {
                code = (int)failure.Code;
                said.Write(failure.Message);
            }

            output.WriteLine($"{code} {said.ToString().ReplaceLineEndings(" ")}");
            output.Flush();
        }

        return 0;
    }
}
