using System.Text;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Store;
using Outcomes.Records;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Run;

/// <summary>The tables that name single rows, for the department alone: findings, ledger, quarantine.</summary>
public static class RecordTables
{
    public static void Write(OutputFolder output, IReadOnlyList<IngestedSource> sources, Ledger ledger, IEnumerable<Finding> findings)
    {
        OutputTables.Findings(output.PathOf("tables/findings.csv"), findings);
        OutputTables.Ledger(output.PathOf("tables/ledger.csv"), Rows(sources, ledger));
        WriteQuarantine(output.PathOf("tables/quarantine.csv"), sources, ledger);
    }

    private static IEnumerable<LedgerRow> Rows(IReadOnlyList<IngestedSource> sources, Ledger ledger)
    {
        for (var s = 0; s < sources.Count; s++)
        {
            var row = 0;
            foreach (var block in RowIndex.Read(sources[s].IndexPath))
                for (var i = 0; i < block.Count; i++, row++)
                    yield return new LedgerRow(sources[s].Request.File, block.Line[i], Encoding.UTF8.GetString(block.Key(i)), ledger.Of(s, row), ledger.RuleOf(s, row));
        }
    }

    // Origin, line and reasons first, then the row's own columns as they were; files with other headings share the heading row.
    private static void WriteQuarantine(string path, IReadOnlyList<IngestedSource> sources, Ledger ledger)
    {
        var held = Enumerable.Range(0, sources.Count).Where(s => ledger.Files[s].Quarantined > 0).ToArray();
        var headings = held.SelectMany(s => sources[s].Manifest.Headings).Distinct(StringComparer.Ordinal).ToArray();
        TableWriter.ToFile(path, ["origin", "line", "reasons", .. headings], table =>
        {
            foreach (var s in held)
            {
                var places = headings.Select(heading => sources[s].Manifest.Headings.IndexOf(heading)).ToArray();
                foreach (var row in Quarantine.Rows(sources[s], s, ledger))
                {
                    table.Text(sources[s].Request.File).Integer(row.Line).Text(ledger.RuleOf(s, row.Row));
                    foreach (var place in places)
                        if (place >= 0 && place < row.Cells.Length) table.Text(row.Cells[place]);
                        else table.Empty();
                    table.End();
                }
            }
        });
    }
}
