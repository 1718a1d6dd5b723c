using System.CommandLine;
using System.Globalization;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Run;
using Outcomes.Records;
using Outcomes.Reporting.Model;
using Spectre.Console;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes check</c>: reads everything, prints findings and reconciliation, writes no report.</summary>
internal static class CheckCommand
{
    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var asOf = RunCommand.AsOfOption();
        var source = RunCommand.SourceOption();
        var command = new Command("check", "Reads everything, prints findings and reconciliation, writes no report; returns what run would.") { pipeline, asOf, source };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(pipeline), parsed.GetValue(asOf), parsed.GetValue(source)));
        return command;
    }

    private static ExitCode Execute(string path, string? asOf, string[]? replaced)
    {
        var pipeline = PipelineFile.Read(path, RunCommand.Replaced(replaced));
        var catalogue = Catalogue.Of(pipeline);
        using var use = RecordStore.Use(pipeline.Store);
        var sources = PipelineRun.Read(pipeline, catalogue);
        using var engine = PipelineRun.Open(pipeline, catalogue, sources, RunCommand.AsOf(asOf, pipeline));
        ExampleChecks.Own(catalogue);
        var breaches = engine.Judge();
        var ledger = PipelineRun.KeepLedger(pipeline, catalogue, sources, breaches);
        Print(ledger.Files.Append(ledger.Total));
        Print(FindingGroup.Of(FindingList.Of(sources, catalogue, breaches, ledger, pipeline.Strict)));
        var tolerated = ledger.QuarantinedShare <= pipeline.Tolerance;
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{(tolerated ? "A run would report" : "A run would refuse")}: {ledger.Total.Quarantined} of {ledger.Total.RowsIn} rows quarantined, {pipeline.Tolerance:P0} tolerated."));
        return tolerated ? ExitCode.Done : ExitCode.Input;
    }

    private static void Print(IEnumerable<Reconciliation> files)
    {
        var table = Sheet("file", "rows in", "accepted", "superseded", "withdrawn", "quarantined");
        foreach (var file in files)
            table.AddRow(new Text(file.File), Number(file.RowsIn), Number(file.Accepted), Number(file.Superseded), Number(file.Withdrawn), Number(file.Quarantined));
        AnsiConsole.Write(table);
    }

    private static void Print(IReadOnlyList<FindingGroup> groups)
    {
        if (groups.Count == 0)
        {
            Console.Out.WriteLine("No findings.");
            return;
        }

        var table = Sheet("severity", "rule", "findings", "columns", "what to do");
        foreach (var group in groups)
            table.AddRow(new Text(Word(group.Severity)), new Text(group.Rule), Number(group.Findings), new Text(string.Join(", ", group.Columns)), new Text(group.Explanation));
        AnsiConsole.Write(table);
    }

    private static Table Sheet(params string[] headings)
    {
        var table = new Table { Border = TableBorder.Simple };
        foreach (var heading in headings) table.AddColumn(new TableColumn(new Text(heading)));
        return table;
    }

    private static Text Number(long value) => new Text(value.ToString(CultureInfo.InvariantCulture)).RightJustified();

    private static string Word(Severity severity) => severity switch { Severity.Refuse => "quarantined", Severity.Blank => "made missing", _ => "please check" };
}
