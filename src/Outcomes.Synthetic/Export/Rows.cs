using System.Collections.Immutable;
using Bogus;

namespace Outcomes.Synthetic.Export;

/// <summary>Rows of cells: a procedure or attempt with the cells that nobody filled in.</summary>
internal static class Rows
{
    /// <summary>A cell in arrest is missing in a third of cases: nobody looks at the monitor then.</summary>
    private const int MissingInArrest = 350;

    /// <summary>The row of a procedure. A planted one is complete, so that what was planted is what is wrong with it.</summary>
    public static string[] Of(Procedure procedure, Randomizer draw, Randomizer later)
    {
        var row = Complete(ProcedureColumns.All, procedure);
        if (procedure.Planted is null)
            LeaveOut(ProcedureColumns.All, ProcedureColumns.First, row, draw, later, procedure.Patient.ArrestBefore);
        return row;
    }

    public static string[] Of(AttemptRow attempt, Procedure procedure, Randomizer draw, Randomizer later)
    {
        var row = Complete(AttemptColumns.All, attempt);
        if (procedure.Planted is null)
            LeaveOut(AttemptColumns.All, AttemptColumns.First, row, draw, later, procedure.Patient.ArrestBefore);
        return row;
    }

    private static string[] Complete<T>(ImmutableArray<LocalColumn<T>> columns, T item)
    {
        var row = new string[columns.Length];
        for (var i = 0; i < row.Length; i++)
            row[i] = columns[i].Text(item);
        return row;
    }

    private static void LeaveOut<T>(
        ImmutableArray<LocalColumn<T>> columns, int first, string[] row, Randomizer early, Randomizer later, bool arrest)
    {
        for (var i = 0; i < row.Length; i++)
        {
            var column = columns[i];
            // What does not arise is not missing, and draws nothing.
            if (column.MissingPerMille == 0 || row[i] is LocalCodes.NotApplicable or LocalCodes.NotAsked)
                continue;
            var draw = i < first ? early : later;
            if (draw.Chance(column.IsVital && arrest ? MissingInArrest : column.MissingPerMille))
                row[i] = column.IsVital
                    ? draw.Weighted((55, ""), (25, "-"), (20, "not recorded"))
                    : draw.Weighted((60, ""), (15, "unknown"), (25, "not recorded"));
        }
    }
}
