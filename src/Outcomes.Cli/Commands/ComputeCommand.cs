using System.CommandLine;
using System.Text.Encodings.Web;
using System.Text.Json;
using Outcomes.Cli.Compute;
using Outcomes.Records;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes compute</c>: one statistic on given numbers, JSON in and out.</summary>
internal static class ComputeCommand
{
    private static readonly JsonSerializerOptions Readable =
        new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static Command Create()
    {
        var name = new Argument<string?>("STATISTIC")
        {
            Description = "The statistic's name, such as wilson.",
            Arity = ArgumentArity.ZeroOrOne
        };
        var json = new Argument<string?>("JSON")
        {
            Description = "Its inputs as a JSON object; - reads them from standard input.",
            Arity = ArgumentArity.ZeroOrOne
        };
        var list = new Option<bool>("--list") { Description = "Names every statistic with its inputs." };
        var command = new Command("compute",
            """Computes one statistic on given numbers, such as: outcomes compute wilson '{"met":81,"eligible":263}'""")
        {
            name, json, list
        };
        command.SetAction(parsed => (int)Execute(parsed.GetValue(name), parsed.GetValue(json), parsed.GetValue(list)));
        return command;
    }

    private static ExitCode Execute(string? name, string? json, bool list)
    {
        if (list || name is null)
        {
            foreach (var statistic in ComputeCatalogue.All)
            {
                Console.Out.WriteLine($"{statistic.Name}: {statistic.Summary}");
                foreach (var input in statistic.Inputs)
                    Console.Out.WriteLine(
                        $"  {input.Name} ({input.Type}{(input.Required ? "" : $", default {input.Default}")}): {input.Meaning}");
                Console.Out.WriteLine($"  source: {statistic.Source}");
            }

            return list ? ExitCode.Done : throw new Failure(ExitCode.Usage, "name a statistic; the list above has them all");
        }

        Console.Out.WriteLine(ComputeCatalogue.Run(name, json == "-" ? Console.In.ReadToEnd() : json).ToJsonString(Readable));
        return ExitCode.Done;
    }
}
