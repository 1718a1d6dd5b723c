using System.CommandLine;
using System.Globalization;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Places;
using Outcomes.Ingestion.Stripping;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes strip</c>: a copy of an export without the columns for which it would be refused.</summary>
internal static class StripCommand
{
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "The export, in any format that is read." };
        var copy = new Option<string>("--out")
        {
            Description = "Where the copy goes, as CSV in UTF-8; nothing may be there yet.",
            HelpName = "FILE",
            Required = true
        };
        var mapping = new Option<string>("--mapping")
        {
            Description = "The mapping the export is read by: for its layout, its key and its checked columns.",
            HelpName = "FILE"
        };
        var command = new Command("strip", "Writes a copy of an export without the columns that identify people, and says which they were.")
        {
            file, copy, mapping
        };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(file), parsed.GetRequiredValue(copy), parsed.GetValue(mapping)));
        return command;
    }

    private static ExitCode Execute(string file, string copy, string? mapping)
    {
        var result = NewFile.Write("--out", copy, place => Strip.Write(
            file, file, place, mapping is null ? null : MappingFile.Read(mapping, mapping), FieldDictionary.Shipped));
        if (result.Columns.IsEmpty) Console.Out.WriteLine("No column is left out.");
        foreach (var column in result.Columns) Line($"Left out: {column.Name}, because {column.Reason}.");
        foreach (var column in result.Unique)
            Line($"Kept, please check: {column}. Hardly a value repeats; the key may be so, any other column should not.");
        if (result.CutRows > 0)
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{result.CutRows} rows had more cells than there are headings; the cells beyond were left out."));
        Console.Out.WriteLine("The copy is CSV in UTF-8 with its headings in the first line."
            + (result.Changed.IsEmpty ? "" : " The mapping that reads it must not "
                + $"have {string.Join(" or ", result.Changed.Select(key => $"`{key}`"))} under `table`."));
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{result.Rows} rows copied. What no detector knows is still in the copy: look at it before it leaves your hands."));
        return ExitCode.Done;
    }

    // Headings are not ours: what acts in them is shown instead.
    private static void Line(string text) => Console.Out.WriteLine(Encode.Visible(text));
}
