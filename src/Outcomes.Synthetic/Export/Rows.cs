using System.Collections.Immutable;
using Bogus;

namespace Outcomes.Synthetic.Export;

/// <summary>Where the missing cells of a record come from: columns that came later changed no older cell.</summary>
internal sealed record CellDraws(Randomizer Early, Randomizer Later, Randomizer Newest)
{
    public static CellDraws For(int seed, string recordId) => new(new Randomizer(Seeds.ForMissingCells(seed, recordId)),
        new Randomizer(Seeds.ForMissingLaterCells(seed, recordId)), new Randomizer(Seeds.ForMissingNewestCells(seed, recordId)));
}

/// <summary>Rows of cells: a procedure or attempt with the cells that nobody filled in.</summary>
internal static class Rows
{
    /// <summary>A cell in arrest is missing in a third of cases: nobody looks at the monitor then.</summary>
    private const int MissingInArrest = 350;

    /// <summary>The row of a procedure. A planted one is complete, so that what was planted is what is wrong with it.</summary>
    public static string[] Of(Procedure procedure, CellDraws draws)
    {
        var row = Complete(ProcedureColumns.All, procedure);
        if (procedure.Planted is null)
            LeaveOut(ProcedureColumns.All, row, i => i < ProcedureColumns.First ? draws.Early : i < ProcedureColumns.Newest
                ? draws.Later
                : draws.Newest, procedure.Patient.ArrestBefore);
        return row;
    }

    public static string[] Of(AttemptRow attempt, Procedure procedure, CellDraws draws)
    {
        var row = Complete(AttemptColumns.All, attempt);
        if (procedure.Planted is null)
            LeaveOut(AttemptColumns.All, row, i => i < AttemptColumns.First ? draws.Early : draws.Later, procedure.Patient.ArrestBefore);
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
        ImmutableArray<LocalColumn<T>> columns, string[] row, Func<int, Randomizer> draws, bool arrest)
    {
        for (var i = 0; i < row.Length; i++)
        {
            var column = columns[i];
            // What does not arise is not missing, and draws nothing.
            if (column.MissingPerMille == 0 || row[i] is LocalCodes.NotApplicable or LocalCodes.NotAsked)
                continue;
            var draw = draws(i);
            if (draw.Chance(column.IsVital && arrest ? MissingInArrest : column.MissingPerMille))
                row[i] = column.IsVital
                    ? draw.Weighted((55, ""), (25, "-"), (20, "not recorded"))
                    : draw.Weighted((60, ""), (15, "unknown"), (25, "not recorded"));
        }
    }
}
