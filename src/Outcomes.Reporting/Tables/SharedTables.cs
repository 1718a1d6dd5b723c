using Outcomes.Reporting.Disclosure;

namespace Outcomes.Reporting.Tables;

/// <summary>The tables of a set for others: its counts and their estimates.</summary>
public static class SharedTables
{
    public static void Write(Func<string, string> path, SharedModel shared)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(shared);
        var cells = shared.Release.Cells.Where(cell => cell.Kind != CellKind.Recent)
            .DistinctBy(cell => (cell.Measure, cell.Stratum, cell.Level, cell.From, cell.To)).ToArray();
        CountsTable.Table.Write(path,
            cells.Select(cell => new CountsRow(cell.Measure, Period(cell), cell.Stratum, cell.Level, cell.Count)));
        EstimatesTable.Table.Write(path, cells.Select(cell =>
            new EstimatesRow(cell.Measure, Period(cell), cell.Stratum, cell.Level, cell.Count, cell.Estimate)));
    }

    private static string Period(ReleasedCell cell) => cell.From == cell.To ? cell.From.ToString() : $"{cell.From}/{cell.To}";
}
