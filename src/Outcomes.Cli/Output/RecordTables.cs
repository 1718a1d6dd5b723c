using System.Collections.Immutable;
using System.Text;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Output;

/// <summary>The tables that name single rows, for the department alone: findings, ledger, quarantine.</summary>
public static class RecordTables
{
    /// <summary>Writes them.</summary>
    /// <returns>The schema of the quarantine, whose columns only this run knows.</returns>
    public static TableSchema Write(
        OutputFolder output, IReadOnlyList<IngestedSource> sources, IReadOnlyList<IngestedSource> traces, Ledger ledger,
        IReadOnlyList<Finding> findings)
    {
        FindingsTable.Write(output.PathOf, findings);
        LedgerTable.Write(output.PathOf, table => WriteLedger(table, sources, traces, ledger));
        return WriteQuarantine(output.PathOf, sources, ledger, Reasons(findings));
    }

    private static void WriteLedger(
        TableWriter table, IReadOnlyList<IngestedSource> sources, IReadOnlyList<IngestedSource> traces, Ledger ledger)
    {
        for (var s = 0; s < sources.Count; s++)
        {
            var row = 0;
            foreach (var block in RowIndex.Read(sources[s].IndexPath))
                for (var i = 0; i < block.Count; i++, row++)
                {
                    var fate = ledger.Of(s, row);
                    LedgerTable.Add(table, new(sources[s].Request.File, block.Line[i], block.Key(i), fate,
                        fate == Fate.Accepted ? "" : ledger.RuleOf(s, row)));
                }
        }

        foreach (var fate in ledger.Traces)
            LedgerTable.Add(table, new(traces[fate.Trace].Request.File, fate.Line, Encoding.UTF8.GetBytes(fate.Key),
                fate.Fate, fate.Rule, fate.Rows));
    }

    // Every rule that refuses the row, in the order of findings: mending one of three is of no use.
    private static ILookup<(string File, int Line), string> Reasons(IEnumerable<Finding> findings) =>
        findings.Where(finding => finding.Severity == Severity.Refuse)
            .Select(finding => (Place: (finding.File, finding.Line), finding.Rule)).Distinct()
            .ToLookup(pair => pair.Place, pair => pair.Rule);

    // Origin, line and reasons first, then the row's own columns as they were; files with other headings share the heading row.
    private static TableSchema WriteQuarantine(
        Func<string, string> place, IReadOnlyList<IngestedSource> sources, Ledger ledger,
        ILookup<(string File, int Line), string> reasons)
    {
        var held = Enumerable.Range(0, sources.Count).Where(s => ledger.Files[s].Quarantined > 0).ToArray();
        var headings = held.SelectMany(s => Own(sources[s])).Distinct(StringComparer.Ordinal).ToArray();
        return QuarantineTable.Write(place, [.. headings], held.SelectMany(s =>
        {
            // A row that was mended and is still held keeps its first origin, so that it can be mended once more.
            var mends = sources[s].Request.Mends;
            var lines = mends is null ? [] : OriginLines.Read(sources[s].OriginsPath);
            var from = sources[s].Manifest.Headings.Length - Own(sources[s]).Length;
            var places = headings.Select(heading => sources[s].Manifest.Headings.IndexOf(heading, from)).ToArray();
            return Quarantine.Rows(sources[s], s, ledger).Select(row => new QuarantineRow(
                mends?.File ?? sources[s].Request.File, mends is null ? row.Line : lines[row.Row], string.Join(' ',
                    reasons[(sources[s].Request.File, row.Line)].DefaultIfEmpty(ledger.RuleOf(s, row.Row))),
                [.. places.Select(place => place >= 0 && place < row.Cells.Length ? row.Cells[place] : "")]));
        }));
    }

    private static ImmutableArray<string> Own(IngestedSource source) =>
        source.Request.Mends is null ? source.Manifest.Headings : source.Manifest.Headings[MendedFile.Columns.Length..];
}
