using System.Collections.Immutable;

namespace Outcomes.Synthetic.Export;

/// <summary>The department's records as a hospital would export them: local headings and codes, missing and wrong cells and all.</summary>
public static class ExportFiles
{
    /// <summary>
    /// Writes the exports of procedures, attempts and traces and returns what is true of them. Nothing but late corrections
    /// is held in memory.
    /// </summary>
    public static Truth Write(SynthesisOptions options, TextWriter procedures, TextWriter attempts, TextWriter traces)
    {
        Csv.Row(procedures, Headings(ProcedureColumns.All));
        Csv.Row(attempts, Headings(AttemptColumns.All));
        Csv.Row(traces, TraceRows.Headings);
        var truth = new TruthBuilder(options);
        var traced = new TraceRows(options);
        var orphans = 0;
        var corrections = new List<string[]>();
        foreach (var procedure in Department.Invent(options))
        {
            var draws = CellDraws.For(options.Seed, procedure.RecordId);
            var row = Rows.Of(procedure, draws);
            Csv.Row(procedures, Dirt.Spoil(row, procedure));
            if (procedure.Planted == Plant.ExactDuplicate)
                Csv.Row(procedures, row);
            if (procedure.Planted == Plant.LateCorrection)
                corrections.Add(row);
            for (var i = 0; i < procedure.Course.Attempts.Length; i++)
                Csv.Row(attempts, Rows.Of(new AttemptRow(procedure.RecordId, i + 1, procedure.Course.Attempts[i]), procedure, draws));
            if (procedure.Planted == Plant.OrphanAttempt)
                Csv.Row(attempts, Orphan(options, orphans++, procedure, draws));
            traced.Write(procedure, traces);
            truth.Add(procedure, row);
        }
        foreach (var row in corrections)
            Csv.Row(procedures, row);
        return truth.Build() with { Traces = traced.Truth };
    }

    /// <summary>An attempt of a record that is in no file, like the first one of the record beside it.</summary>
    private static string[] Orphan(SynthesisOptions options, int number, Procedure beside, CellDraws draws) =>
        Rows.Of(new AttemptRow(RecordIds.For(options.Seed, RecordIds.NoMonth, number), 1, beside.Course.Attempts[0]), beside, draws);

    private static string[] Headings<T>(ImmutableArray<LocalColumn<T>> columns) => [.. columns.Select(column => column.Heading)];
}
