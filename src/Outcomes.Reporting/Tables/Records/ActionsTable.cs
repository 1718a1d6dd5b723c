using System.Globalization;
using Outcomes.Analysis;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>actions.csv</c>: an action, and where it stands on a date.</summary>
internal sealed record ActionRow(DepartmentAction Action, DateOnly AsOf);

/// <summary><c>actions.csv</c>: what review meetings decided, for other programs.</summary>
public static class ActionsTable
{
    internal static readonly CsvTable<ActionRow> Table =
        new CsvTable<ActionRow>(
            "actions.csv",
            "Written by `outcomes actions --csv`, not by a run: what review meetings decided, and where each action stands",
            "One row is one action of the file of actions or of minutes, in order of the day it was decided.")
            .Word("action_id", "Id of the action.", row => row.Action.Id)
            .Word("what", "What is to be done.", row => row.Action.What)
            .Word("owner", "The role that does it.", row => row.Action.Owner)
            .Date("due", "The date by which it should be done.", row => row.Action.Due)
            .Text("measure", "Id of the measure that should show it.", row => row.Action.Measure)
            .Text(new("measure_by", ColumnType.Date, "The date by which that measure should have moved."), row => Day(row.Action.MeasureBy))
            .Text("cases", "Ids of the cases it came from, separated by semicolons.", row => string.Join(';', row.Action.Cases))
            .Date("opened", "When it was decided.", row => row.Action.Opened)
            .Text(new("closed", ColumnType.Date, "When it was closed."), row => Day(row.Action.Closed))
            .Text("effect", "What it brought about.", row => row.Action.Effect)
            .Word("state", "Where it stands on the date that the command looks at.", row => ActionWording.State(row.Action, row.AsOf),
                [.. ActionWording.States])
            .With(schema => schema with { DepartmentOnly = true, Key = ["action_id"] });

    /// <summary>Writes the actions to a file.</summary>
    public static void Write(string file, IEnumerable<DepartmentAction> actions, DateOnly asOf) => Table.Write(file,
        actions.OrderBy(action => action.Opened).ThenBy(action => action.Id, StringComparer.Ordinal)
            .Select(action => new ActionRow(action, asOf)));

    private static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
