using System.CommandLine;
using System.Globalization;
using Outcomes.Cli.Definitions;
using Outcomes.Measures;
using Outcomes.Records;
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
        var command = new Command("query", "Runs a read-only SQL query over the records; for the department alone.")
        {
            pipeline, sql, format
        };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(pipeline), parsed.GetRequiredValue(sql),
            parsed.GetValue(format)!));
        return command;
    }

    private static ExitCode Execute(string path, string sql, string format)
    {
        var pipeline = PipelineFile.Read(path, new Dictionary<string, string>());
        using var records = CheckedRecords.OpenForDepartment(pipeline, RunCommand.AsOf(null, pipeline));
        var result = records.Engine.Query(sql);
        if (format == "csv") WriteCsv(result);
        else WriteTable(result);
        return ExitCode.Done;
    }

    private static void WriteTable(QueryResult result)
    {
        var table = new Table { Border = TableBorder.Simple };
        foreach (var column in result.Columns) table.AddColumn(new TableColumn(new Text(column)));
        foreach (var row in result.Rows) table.AddRow(row.Select(cell => new Text(Shown(cell))));
        AnsiConsole.Write(table);
    }

    private static void WriteCsv(QueryResult result)
    {
        using var stream = Console.OpenStandardOutput();
        using var table = TableWriter.Create(stream, [.. result.Columns]);
        foreach (var row in result.Rows)
        {
            foreach (var cell in row)
                _ = cell switch
                {
                    null => table.Empty(),
                    long or int or short or byte or System.Numerics.BigInteger =>
                        table.Integer(Convert.ToInt64(cell.ToString(), CultureInfo.InvariantCulture)),
                    double or float or decimal => table.Number(Convert.ToDouble(cell, CultureInfo.InvariantCulture)),
                    _ => table.Text(Shown(cell)),
                };
            table.End();
        }
    }

    private static string Shown(object? cell) => cell switch
    {
        null => "",
        DateOnly date => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        bool yes => yes ? "yes" : "no",
        _ => Convert.ToString(cell, CultureInfo.InvariantCulture) ?? "",
    };
}
