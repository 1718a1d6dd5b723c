using System.CommandLine;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;
using Spectre.Console;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes query</c>: a researcher's read-only SQL over the records that count.</summary>
internal static class QueryCommand
{
    public static Command Create()
    {
        var pipeline = RunCommand.PipelineArgument();
        var sql = new Argument<string>("SQL") { Description = "A SELECT over the tables records, records_as_recorded and attempts." };
        var format =
            new Option<string>("--format") { Description = "table or csv.", DefaultValueFactory = _ => "table", HelpName = "table|csv" };
        format.AcceptOnlyFromAmong("table", "csv");
        var seconds = new Option<int>("--seconds")
        {
            Description = "How long the query may take, 1 to 86400.",
            DefaultValueFactory = _ => 60,
            HelpName = "N"
        };
        seconds.Validators.Add(given =>
        {
            if (given.GetValueOrDefault<int>() is < 1 or > 86_400) given.AddError("--seconds is a whole number from 1 to 86400");
        });
        var command = new Command("query", "Runs a read-only SQL query over the records; for the department alone.")
        {
            pipeline, sql, format, seconds
        };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(pipeline), parsed.GetRequiredValue(sql),
            parsed.GetValue(format)!, TimeSpan.FromSeconds(parsed.GetValue(seconds))));
        return command;
    }

    private static ExitCode Execute(string path, string sql, string format, TimeSpan patience)
    {
        var pipeline = PipelineFile.Read(path, new Dictionary<string, string>());
        using var records = CheckedRecords.OpenForDepartment(pipeline, RunCommand.AsOf(null, pipeline));
        var result = records.Engine.Query(sql, patience);
        if (format == "csv") WriteCsv(result);
        else WriteTable(result);
        return ExitCode.Done;
    }

    private static void WriteTable(QueryResult result)
    {
        var table = new Table { Border = TableBorder.Simple };
        foreach (var column in result.Columns) table.AddColumn(new TableColumn(new Text(Encode.Visible(column))));
        foreach (var row in result.Rows) table.AddRow(row.Select(cell => new Text(Encode.Visible(QueriedValue.Show(cell)))));
        AnsiConsole.Write(table);
    }

    private static void WriteCsv(QueryResult result)
    {
        using var stream = Console.OpenStandardOutput();
        using var table = TableWriter.Create(stream, [.. result.Columns]);
        foreach (var row in result.Rows)
        {
            foreach (var cell in row)
                QueriedValue.Write(table, cell);
            table.End();
        }
    }
}
