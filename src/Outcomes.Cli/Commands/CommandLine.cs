using System.CommandLine;
using System.CommandLine.Parsing;
using Outcomes.Cli.Output;
using Outcomes.Records;

namespace Outcomes.Cli.Commands;

/// <summary>The commands and their options: a stable contract.</summary>
public static class CommandLine
{
    public static ExitCode Run(string[] args)
    {
        var root = new RootCommand($"Counts of airway procedures to the monthly report. {Tool.Caution}")
        {
            DemoCommand.Create(), InitCommand.Create(), CheckCommand.Create(), RunCommand.Create(), DescribeCommand.Create(),
            QueryCommand.Create(), ReviewCommand.Create(), MeetingCommand.Create(), ActionsCommand.Create(),
            ExportCommand.Create(), PowerCommand.Create(), ExploreCommand.Create(),
            ComputeCommand.Create(), SynthesiseCommand.Create(), ForgetCommand.Create(), StripCommand.Create(), FormCommand.Create(),
        };
        var result = root.Parse(args.Length == 0 ? ["--help"] : args);
        if (result.Errors.Count > 0)
        {
            foreach (var error in result.Errors) Console.Error.WriteLine($"{Tool.Name}: {error.Message}");
            var unknown = args.FirstOrDefault(arg => result.UnmatchedTokens.Contains(arg));
            if (unknown is not null)
            {
                var known = unknown.StartsWith('-')
                    ? result.CommandResult.Command.Options.Select(option => option.Name)
                    : root.Subcommands.Select(command => command.Name);
                if (Nearest.Suggest(unknown, known) is { Length: > 0 } near) Console.Error.WriteLine($"{Tool.Name}: `{unknown}`{near}");
            }

            Console.Error.WriteLine($"{Tool.Name}: "
                + $"`{Tool.Name} {(result.CommandResult.Command is RootCommand ? "" : result.CommandResult.Command.Name + " ")}--help` "
                + "shows what is possible");
            return ExitCode.Usage;
        }

        if (WithoutValue(result) is { } empty)
        {
            Console.Error.WriteLine($"{Tool.Name}: {empty} is empty; give it a value, or leave it out where it may be left out");
            return ExitCode.Usage;
        }

        return (ExitCode)result.Invoke(
            new InvocationConfiguration { EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = null });
    }

    // No argument or option means anything by an empty text, and as a path it would mean the folder one stands in.
    private static string? WithoutValue(ParseResult result) => result.CommandResult.Children
        .Where(given => given.Tokens.Any(token => string.IsNullOrWhiteSpace(token.Value)))
        .Select(given => given switch
        {
            OptionResult option => option.Option.Name,
            ArgumentResult argument => argument.Argument.Name,
            _ => "an argument",
        }).FirstOrDefault();
}
